//! The JSON of the bench: the next card, and what stands beside it.

use crate::bench::Next;
use crate::card::{Card, Torque};
use crate::look::Look;
use crate::orders::HeldForView;
use crate::shortcuts::{ShortcutLine, standing_word};
use refettle_judgement::range::believable;
use refettle_memory::entry::{BagLine, Day, TroubleKind};
use refettle_memory::state::GarageNow;
use serde::Serialize;

/// `refettle bench --json`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct BenchView {
    /// `refettle-bench/1`
    pub format: &'static str,
    /// The bike's id.
    pub bike: String,
    /// What the person calls it.
    pub title: String,
    /// The last entry: what an answer has seen.
    pub last: String,
    /// `card`, `wait`, `finished` or `no-plan`.
    pub next: &'static str,
    /// The card that is up; of a wait, the one that comes after it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub card: Option<CardView>,
    /// Until when nothing but waiting is left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub until: Option<String>,
    /// Why there is no plan.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub causes: Vec<String>,
    /// Orders for which the card is better left until they are here.
    pub held_for: Vec<HeldForView>,
    /// Cards put off that could be taken up now.
    pub put_off: Vec<PutOffView>,
    /// What the surprises met change, in words, against the plan as it would be without them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub changed: Option<String>,
    /// Surprises that still stand in the way, in the order of telling.
    pub surprises: Vec<SurpriseView>,
    /// Shortcuts, those that can hurt first.
    pub shortcuts: Vec<ShortcutView>,
    /// Parts and fixings that nobody saw fitted.
    pub unwitnessed: Vec<String>,
    /// What was over or missing when a bag was emptied, and is not settled.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub bag_questions: Vec<BagQuestionView>,
    /// Corrections of the sheet that do not fit it, each with why.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub not_corrected: Vec<String>,
    /// Hands-on time left, whole seconds; none without a plan.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left_s: Option<u32>,
    /// The same as a person would believe it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub believable: Option<String>,
}

/// A card.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CardView {
    /// What an answer names it by.
    pub id: String,
    /// As a plan's actions have it.
    pub kind: &'static str,
    /// What to do.
    pub title: String,
    /// How the bike stands meanwhile.
    pub stance: String,
    /// Expected hands-on time, whole seconds.
    pub seconds: u32,
    /// Wait afterwards, whole seconds.
    pub wait_s: u32,
    /// People it takes.
    pub people: u8,
    /// The bag for its fixings.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bag: Option<usize>,
    /// Fixings.
    pub fixings: Vec<FixingView>,
    /// What to note before it comes off, or to set again.
    pub settings: Vec<String>,
    /// What was noted of each of them; empty where nothing was.
    pub noted: Vec<String>,
    /// What it uses up.
    pub uses: Vec<String>,
    /// What it measures.
    pub measures: Vec<String>,
    /// Cautions in words.
    pub cautions: Vec<String>,
    /// What was said to be wrong with it, oldest first.
    pub troubles: Vec<String>,
    /// It was put off before.
    pub put_off: bool,
}

/// Fixings of one kind on a card.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FixingView {
    /// As written on a bag.
    pub what: String,
    /// How tight, in words with its source; none where that is not asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub torque: Option<String>,
}

/// A surprise that stands in the way.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SurpriseView {
    /// Its entry.
    pub entry: String,
    /// What kind; left out when it was not said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kind: Option<&'static str>,
    /// Where.
    pub about: String,
    /// In the person's words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// The option chosen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub option: Option<String>,
}

/// A card put off.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PutOffView {
    /// Its id.
    pub id: String,
    /// What to do.
    pub title: String,
}

/// Something over or missing from a bag: from where, or where to?
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct BagQuestionView {
    /// Its entry, to settle it by.
    pub entry: String,
    /// The bag's number.
    pub bag: u16,
    /// What was over.
    pub over: Vec<String>,
    /// What was missing.
    pub missing: Vec<String>,
}

/// A shortcut.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ShortcutView {
    /// Its entry.
    pub entry: String,
    /// Its kind.
    pub kind: &'static str,
    /// Where.
    pub about: String,
    /// In the person's words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// `can hurt`, `can strand` or `can annoy`.
    pub risk: &'static str,
    /// What can happen.
    pub risks: &'static str,
    /// The closing test.
    pub test: String,
    /// The test is a step of the plan; otherwise the road check asks for it.
    pub in_plan: bool,
    /// When it is due.
    pub when: &'static str,
    /// `open`, `open again`, `cleared` or `due later`.
    pub stands: &'static str,
}

impl From<&ShortcutLine> for ShortcutView {
    fn from(line: &ShortcutLine) -> ShortcutView {
        ShortcutView {
            entry: line.entry.to_string(),
            kind: line.kind.word(),
            about: line.about.clone(),
            note: line.note.clone(),
            risk: line.risk.word(),
            risks: line.risks,
            test: line.test.clone(),
            in_plan: line.in_plan,
            when: line.when,
            stands: standing_word(line.standing),
        }
    }
}

/// How tight a fixing goes, in words.
#[must_use]
pub fn torque(torque: &Torque) -> Option<String> {
    match torque {
        Torque::NotNow => None,
        Torque::OnItsOwnCard => Some("on a card of its own".to_owned()),
        Torque::FindMakers => Some("find the maker's figure before you tighten".to_owned()),
        Torque::Known { value, source } => Some(format!("{value} ({source})")),
        Torque::Typical { value, source } => {
            Some(format!("typical {value}, the maker's figure wins ({source})"))
        }
    }
}

impl CardView {
    fn of(card: &Card) -> CardView {
        CardView {
            id: card.id.clone(),
            kind: card.kind,
            title: card.title.clone(),
            stance: card.stance.clone(),
            seconds: card.time.0,
            wait_s: card.wait.0,
            people: card.people,
            bag: card.bag.map(|bag| bag.number),
            fixings: card
                .fixings
                .iter()
                .map(|line| FixingView {
                    what: line.text.clone(),
                    torque: torque(&line.torque),
                })
                .collect(),
            settings: card.settings.clone(),
            noted: card.noted.iter().map(|n| n.clone().unwrap_or_default()).collect(),
            uses: card.uses.clone(),
            measures: card.measures.clone(),
            cautions: card
                .cautions
                .iter()
                .map(|c| format!("{}: {} {} {}", c.title, c.risk, c.do_not, c.instead))
                .collect(),
            troubles: card.troubles.iter().map(|(_, note)| note.clone()).collect(),
            put_off: card.put_off,
        }
    }
}

impl Look {
    /// The bench as JSON. `take` asks for a card that was put off.
    #[must_use]
    pub fn bench(&self, garage: &GarageNow, today: Day, take: Option<&str>) -> BenchView {
        let next = self.next(take);
        let (word, card, until) = match &next {
            Next::Card(card) => ("card", Some(card), None),
            Next::Wait(card, until) => ("wait", Some(card), Some(until.to_string())),
            Next::Finished => ("finished", None, None),
            Next::NoPlan => ("no-plan", None, None),
        };
        let found = self.plan.as_ref().ok().map(|evening| &evening.found);
        let act = card
            .and_then(|card| found?.actions.get(card.place))
            .map(|action| action.act);
        let left = found.map(|found| found.hands_on);
        BenchView {
            format: "refettle-bench/1",
            bike: self.bike.to_string(),
            title: self.now.title.clone(),
            last: self.now.last.to_string(),
            next: word,
            card: card.map(|card| CardView::of(card)),
            until,
            causes: self
                .plan
                .as_ref()
                .err()
                .map_or_else(Vec::new, |none| none.causes.clone()),
            held_for: act.map_or_else(Vec::new, |act| self.held_for(&act, garage, today)),
            put_off: self
                .put_off()
                .into_iter()
                .map(|(id, title)| PutOffView { id, title })
                .collect(),
            changed: self.changed.as_ref().map(|changed| changed.words.clone()),
            surprises: self.surprises(),
            shortcuts: self.shortcuts().iter().map(ShortcutView::from).collect(),
            unwitnessed: self.unwitnessed(),
            bag_questions: self.bag_questions(),
            not_corrected: self.not_corrected.clone(),
            left_s: left.map(|left| left.0),
            believable: left.map(|left| believable(left).to_string()),
        }
    }

    /// Surprises that still stand in the way, in the order of telling.
    #[must_use]
    pub fn surprises(&self) -> Vec<SurpriseView> {
        let open = self.now.book.open_troubles();
        open.map(|trouble| SurpriseView {
            entry: trouble.entry.to_string(),
            kind: trouble.kind.map(TroubleKind::word),
            about: crate::told::about(&self.machine, &trouble.about),
            note: trouble.note.clone(),
            option: trouble.option.as_ref().map(|kept| kept.body.option.to_string()),
        })
        .collect()
    }

    fn bag_questions(&self) -> Vec<BagQuestionView> {
        let lines = |lines: &[BagLine]| {
            let told = lines.iter().map(|line| format!("{} x {}", line.count, line.what));
            told.collect()
        };
        let open = self.now.book.open_bag_questions();
        open.map(|question| BagQuestionView {
            entry: question.emptied.entry.to_string(),
            bag: question.emptied.body.bag,
            over: lines(&question.emptied.body.over),
            missing: lines(&question.emptied.body.missing),
        })
        .collect()
    }

    /// Titles of parts and critical fixings that nobody saw fitted.
    #[must_use]
    pub fn unwitnessed(&self) -> Vec<String> {
        let parts = self.now.unwitnessed.parts.iter();
        let parts = parts
            .filter_map(|p| self.machine.parts.get(p.0))
            .map(|p| p.title.clone());
        let fixings = self.now.unwitnessed.criticals.iter();
        let fixings = fixings
            .filter_map(|c| self.machine.criticals.get(c.0))
            .map(|c| c.title.clone());
        parts.chain(fixings).collect()
    }
}
