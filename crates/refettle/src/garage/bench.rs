//! `refettle bench`

use super::opened::{Place, failed, mistaken};
use super::typed::entry_id;
use crate::commands::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_facts::ids::EntryId;
use refettle_papers::trouble_sheet;
use refettle_papers::wrap::{folded, message};
use refettle_usecases::bench_view::{BenchView, CardView};
use refettle_usecases::look::Read;
use refettle_usecases::refused::Refused;
use refettle_usecases::surprise;

#[derive(Args)]
pub struct Bench {
    /// The bike, by id or title
    bike: String,
    /// A card that was put off, to take up now
    #[arg(long, value_name = "CARD")]
    take: Option<String>,
    /// A surprise: what can be done about it, instead of the card
    #[arg(long, value_name = "ENTRY", value_parser = entry_id, conflicts_with = "take")]
    trouble: Option<EntryId>,
    #[command(flatten)]
    place: Place,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Bench {
    pub fn run(&self) -> Result<String, Failure> {
        let opened = self.place.open()?;
        let bike = opened.bike(&self.bike)?;
        if let Some(trouble) = &self.trouble {
            return self.options(&opened.read(&bike)?, trouble);
        }
        let look = opened.look(&bike)?;
        let garage = opened.memory.garage().map_err(failed)?;
        let view = look.bench(&garage, opened.today(), self.take.as_deref());
        if self.json {
            return json(&view);
        }
        match look.plan {
            Err(none) => Err(Refused::NoPlan(Box::new(none)).into()),
            Ok(_) => Ok(text(&view)),
        }
    }
}

impl Bench {
    fn options(&self, read: &Read, trouble: &EntryId) -> Result<String, Failure> {
        let Some(options) = surprise::surprise(read, trouble)?.options else {
            return Err(mistaken(vec![
                "it is not known what happened there, or where; see: refettle log trouble --help".to_owned(),
            ]));
        };
        let view = options.map_err(|why| mistaken(vec![why]))?;
        if self.json {
            json(&view)
        } else {
            let next = format!(
                "\nChoose: refettle log way-out {} {trouble} OPTION\n",
                read.bike()
            );
            Ok(trouble_sheet::text(&view) + &next)
        }
    }
}

fn text(view: &BenchView) -> String {
    let mut out = message(&view.title);
    if let Some(left) = view.believable.as_ref().filter(|_| view.card.is_some()) {
        out.push_str(&format!("Hands on still {left}\n"));
    }
    out.push('\n');
    match (&view.card, &view.until) {
        (None, _) => out.push_str("Nothing is left to do.\n"),
        (Some(card), Some(until)) => {
            out.push_str(&folded("Wait until ", until));
            out.push_str(&folded("Then: ", &card.title));
        }
        (Some(card), None) => out.push_str(&shown(card)),
    }
    for held in &view.held_for {
        let due = held
            .due
            .as_ref()
            .map_or_else(String::new, |due| format!(", due {due}"));
        out.push_str(&folded(
            "Better left until it is here: ",
            &format!(
                "{}{due}; to begin all the same: refettle log begin-anyway {} {}",
                held.what, view.bike, held.order
            ),
        ));
    }
    if let Some(changed) = &view.changed {
        out.push_str(&folded("Changed by what went wrong: ", changed));
    }
    for surprise in &view.surprises {
        let kind = surprise.kind.unwrap_or("something is wrong");
        let what = match &surprise.option {
            Some(option) => format!("{kind}, {}: {option}", surprise.about),
            None => format!(
                "{kind}, {}: nothing chosen; see: refettle bench {} --trouble {}",
                surprise.about, view.bike, surprise.entry
            ),
        };
        out.push_str(&folded("Trouble: ", &what));
    }
    for put_off in &view.put_off {
        out.push_str(&folded(
            "Put off: ",
            &format!("{} (--take {})", put_off.title, put_off.id),
        ));
    }
    for shortcut in view.shortcuts.iter().filter(|s| s.stands.starts_with("open")) {
        out.push_str(&folded(
            "Shortcut: ",
            &format!(
                "{}, {}, {}: {}; closing test: {} ({})",
                shortcut.kind, shortcut.about, shortcut.risk, shortcut.risks, shortcut.test, shortcut.when
            ),
        ));
    }
    if !view.unwitnessed.is_empty() {
        out.push_str(&folded("Nobody saw it fitted: ", &view.unwitnessed.join(", ")));
    }
    for question in &view.bag_questions {
        for (word, lines) in [("over", &question.over), ("missing", &question.missing)] {
            if !lines.is_empty() {
                out.push_str(&folded(
                    &format!("Bag {}, {word}: ", question.bag),
                    &format!(
                        "{}; when you know: refettle log settled {} {} put-right",
                        lines.join(", "),
                        view.bike,
                        question.entry
                    ),
                ));
            }
        }
    }
    for told in &view.not_corrected {
        out.push_str(&folded("Correction left out: ", told));
    }
    if let (Some(card), None) = (&view.card, &view.until) {
        out.push_str(&format!(
            "Answer:\n  refettle log answer {} {} done\n  or: wrong, another-way (with --note), not-now\n",
            view.bike, card.id
        ));
    }
    out
}

fn shown(card: &CardView) -> String {
    let mut out = message(&card.title);
    out.push_str(&folded("  bike: ", &card.stance));
    for caution in &card.cautions {
        out.push_str(&folded("  CAUTION: ", caution));
    }
    if let Some(bag) = card.bag {
        out.push_str(&format!("  bag {bag}\n"));
    }
    for fixing in &card.fixings {
        let torque = fixing
            .torque
            .as_ref()
            .map_or_else(String::new, |t| format!(": {t}"));
        out.push_str(&folded("  ", &format!("{}{torque}", fixing.what)));
    }
    for (label, lines) in [
        ("  note: ", &card.settings),
        ("  uses: ", &card.uses),
        ("  measure: ", &card.measures),
        ("  was said: ", &card.troubles),
    ] {
        for line in lines {
            out.push_str(&folded(label, line));
        }
    }
    if card.people > 1 {
        out.push_str(&format!("  takes {} people\n", card.people));
    }
    out
}
