use super::region::BADGE;
use super::{Outline, Seen, Side, Standing, Use};
use refettle_machine::ix::PartIx;
use refettle_machine::model::Machine;
use refettle_machine::state::BikeState;
use refettle_machine::{layouts, sheet};
use std::collections::BTreeSet;

/// Tags of a picture open and close in turn, quotes are paired, and no text is left unescaped.
pub(crate) fn well_formed(svg: &str) {
    let mut open: Vec<&str> = Vec::new();
    let mut rest = svg;
    while let Some(at) = rest.find('<') {
        assert!(
            !rest[..at].contains('>'),
            "a stray > before {}",
            &rest[at..rest.len().min(at + 40)]
        );
        let end = rest.find('>').unwrap();
        let tag = &rest[at + 1..end];
        assert_eq!(tag.matches('"').count() % 2, 0, "{tag}");
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(name));
        } else if !tag.ends_with('/') {
            open.push(tag.split_whitespace().next().unwrap());
        }
        rest = &rest[end + 1..];
    }
    assert!(open.is_empty(), "{open:?} stay open");
}

fn machines() -> Vec<Machine> {
    layouts::ALL
        .iter()
        .map(|(_, text)| sheet::read(text).unwrap())
        .collect()
}

/// Width a picture has on a phone of 390 CSS pixels: the page keeps 0.8 rem at either side.
const PHONE: u16 = 364;

#[test]
fn every_part_of_every_layout_is_drawn_where_it_sits_inside_the_picture() {
    let mut parts = 0;
    for machine in machines() {
        let outline = Outline::of(&machine);
        for (at, part) in machine.parts.iter().enumerate() {
            let own: Vec<_> = outline
                .placed
                .iter()
                .filter(|p| p.part == Some(PartIx(at)))
                .collect();
            assert!(!own.is_empty(), "{}: {}", machine.name, part.name);
            for placed in own {
                assert!(
                    outline.drawing.view.holds(placed.bounds),
                    "{}: {} at {:?}",
                    machine.name,
                    part.name,
                    placed.bounds
                );
                // Drawn by name, not set down in a corner of its region.
                assert_eq!(placed.form.part, Some(part.name.as_str()), "{}", machine.name);
            }
            parts += 1;
        }
    }
    assert!(parts > 400, "{parts}");
}

#[test]
fn a_part_no_drawing_knows_still_gets_a_place_in_its_region() {
    let mut machine = machines().remove(0);
    let mut strange = machine.parts[0].clone();
    strange.name = "sidecar-wheel".to_owned();
    strange.region = "rear".to_owned();
    machine.parts.push(strange);
    let outline = Outline::of(&machine);
    let placed = outline
        .placed
        .iter()
        .find(|p| p.part == Some(PartIx(machine.parts.len() - 1)))
        .unwrap();
    assert!(outline.drawing.zone("rear").holds(placed.bounds));
    // A sheet of another name is drawn as the layout it shares most with.
    machine.name = "of-my-own".to_owned();
    assert_eq!(Outline::of(&machine).drawing.view, outline.drawing.view);
}

#[test]
fn a_thumb_hits_every_region_on_a_phone() {
    for machine in machines() {
        let drawing = Outline::of(&machine).drawing;
        let px = f64::from(PHONE) / drawing.view.width();
        let regions: BTreeSet<&str> = machine.parts.iter().map(|p| p.region.as_str()).collect();
        for region in &regions {
            assert!(
                drawing.zones.iter().any(|(name, _)| name == region),
                "{}: {region}",
                machine.name
            );
        }
        for (region, zone) in &drawing.zones {
            assert!(
                zone.width() * px >= 48.0,
                "{} {region}: {:.0} px wide",
                machine.name,
                zone.width() * px
            );
            assert!(
                zone.height() * px >= 48.0,
                "{} {region}: {:.0} px high",
                machine.name,
                zone.height() * px
            );
            assert!(drawing.view.holds(*zone), "{} {region}", machine.name);
        }
        for (i, (a, first)) in drawing.zones.iter().enumerate() {
            for (b, second) in &drawing.zones[i + 1..] {
                assert!(!first.meets(*second), "{}: {a} lies over {b}", machine.name);
            }
        }
    }
}

#[test]
fn numbers_of_a_region_stand_apart_and_inside_the_picture() {
    for machine in machines() {
        let outline = Outline::of(&machine);
        let state = BikeState::whole(&machine);
        let none = BTreeSet::new();
        let seen = Seen {
            machine: &machine,
            state: &state,
            missing: &none,
            now: &none,
            findings: &[],
        };
        for (region, parts) in seen.regions() {
            let view = outline.region_view(region, &parts);
            let mm = view.width() / f64::from(PHONE);
            let numbered = outline.numbered(&parts, view, mm);
            assert_eq!(numbered.len(), parts.len(), "{} {region}", machine.name);
            for (i, a) in numbered.iter().enumerate() {
                let r = BADGE * mm;
                let (x, y) = a.badge;
                assert!(
                    x - r >= view.left && x + r <= view.right && y - r >= view.bottom && y + r <= view.top,
                    "{} {region} {}",
                    machine.name,
                    a.number
                );
                for b in &numbered[i + 1..] {
                    let apart = (x - b.badge.0).hypot(y - b.badge.1);
                    assert!(
                        apart >= 2.0 * r,
                        "{} {region}: {} over {}",
                        machine.name,
                        a.number,
                        b.number
                    );
                }
            }
        }
    }
}

/// A bike half apart: one part off, what rides on it, one loose, one missing, one found wrong, one up now.
struct HalfApart {
    machine: Machine,
    state: BikeState,
    missing: BTreeSet<PartIx>,
    now: BTreeSet<PartIx>,
    findings: Vec<PartIx>,
}

impl HalfApart {
    fn new() -> HalfApart {
        let machine = machines().remove(0);
        let part = |name: &str| machine.part(name).unwrap();
        let mut state = BikeState::whole(&machine);
        state.off = [part("tail-fairing"), part("seat")].into();
        state.loose = machine
            .criticals
            .iter()
            .enumerate()
            .filter(|(_, c)| c.part == part("front-wheel"))
            .map(|(at, _)| refettle_machine::ix::CriticalIx(at))
            .collect();
        let (missing, now) = ([part("mirrors")].into(), [part("tank")].into());
        let findings = vec![part("battery"), part("headlight")];
        HalfApart {
            machine,
            state,
            missing,
            now,
            findings,
        }
    }
    fn seen(&self) -> Seen<'_> {
        Seen {
            machine: &self.machine,
            state: &self.state,
            missing: &self.missing,
            now: &self.now,
            findings: &self.findings,
        }
    }
}

#[test]
fn each_standing_is_drawn_its_own_way_and_said() {
    let half = HalfApart::new();
    let seen = half.seen();
    let part = |name: &str| half.machine.part(name).unwrap();
    assert_eq!(seen.standing(part("seat")), Standing::Off);
    assert_eq!(seen.standing(part("rear-light")), Standing::OffWithCarrier);
    assert_eq!(seen.standing(part("front-wheel")), Standing::Loose);
    assert_eq!(seen.standing(part("mirrors")), Standing::Missing);
    assert_eq!(seen.standing(part("tank")), Standing::On);

    let outline = Outline::of(&half.machine);
    let used = Use {
        id: "o",
        links: Some("/cover#"),
        width: PHONE,
        floor: true,
    };
    let svg = outline.whole(&seen, Side::Right, used).into_string();
    well_formed(&svg);
    assert_eq!(
        svg.matches("class=\"ghost\"").count(),
        4,
        "seat, tail, and the two that ride on it"
    );
    assert_eq!(
        svg.matches("<g class=\"aside\"").count(),
        2,
        "only what is off itself lies on the floor"
    );
    assert_eq!(svg.matches("class=\"loose").count(), 1);
    assert_eq!(svg.matches("class=\"gone\"").count(), 1);
    assert_eq!(svg.matches("class=\"cross\"").count(), 1);
    assert_eq!(svg.matches("<g class=\"flag\"").count(), 2);
    assert_eq!(svg.matches("class=\"point\"").count(), 1);
    assert!(
        svg.contains("seen from the right, 4 off, 1 loose, 1 missing"),
        "{}",
        &svg[..400]
    );
    // Nothing off, nothing of it drawn.
    let whole = BikeState::whole(&half.machine);
    let none = BTreeSet::new();
    let seen = Seen {
        machine: &half.machine,
        state: &whole,
        missing: &none,
        now: &none,
        findings: &[],
    };
    let svg = outline.whole(&seen, Side::Right, used).into_string();
    for class in ["ghost", "aside", "gone", "cross", "flag", "point"] {
        assert!(!svg.contains(&format!("class=\"{class}\"")), "{class}");
    }
}

#[test]
fn regions_are_links_with_names_that_tell_what_is_in_them() {
    let half = HalfApart::new();
    let seen = half.seen();
    let used = Use {
        id: "o",
        links: Some("/cover#"),
        width: PHONE,
        floor: true,
    };
    for side in [Side::Right, Side::Left] {
        let svg = Outline::of(&half.machine).whole(&seen, side, used).into_string();
        well_formed(&svg);
        for (region, parts) in seen.regions() {
            let said = seen.region_in_words(region, &parts);
            assert!(
                svg.contains(&format!("href=\"/cover#{region}\" aria-label=\"{said}\"")),
                "{said}"
            );
        }
    }
    let rear = seen.regions().into_iter().find(|(r, _)| *r == "rear").unwrap().1;
    assert_eq!(
        seen.region_in_words("rear", &rear),
        format!("rear: {} parts, 3 off", rear.len())
    );
}

#[test]
fn the_left_shows_what_the_right_hides() {
    let half = HalfApart::new();
    let outline = Outline::of(&half.machine);
    let part = |name: &str| half.machine.part(name).unwrap();
    assert_eq!(outline.side_of(part("chain")), Some("left side"));
    assert_eq!(outline.side_of(part("rear-caliper")), Some("right side"));
    assert_eq!(outline.side_of(part("tank")), None);
    let seen = half.seen();
    let drawn = |side| {
        outline
            .visible(&seen, side)
            .iter()
            .filter_map(|p| p.part)
            .collect::<BTreeSet<_>>()
    };
    let (right, left) = (drawn(Side::Right), drawn(Side::Left));
    assert!(left.contains(&part("chain")) && !right.contains(&part("chain")));
    let there: BTreeSet<PartIx> = (0..half.machine.parts.len())
        .map(PartIx)
        .filter(|p| seen.exists(*p))
        .collect();
    assert_eq!(right.union(&left).copied().collect::<BTreeSet<_>>(), there);
}

#[test]
fn pictures_are_light() {
    let none = BTreeSet::new();
    for machine in machines() {
        let outline = Outline::of(&machine);
        let state = BikeState::whole(&machine);
        let seen = Seen {
            machine: &machine,
            state: &state,
            missing: &none,
            now: &none,
            findings: &[],
        };
        let used = Use {
            id: "o",
            links: Some("#"),
            width: PHONE,
            floor: true,
        };
        let whole = outline.whole(&seen, Side::Right, used).into_string().len();
        assert!(whole < 40_000, "{}: {whole} bytes", machine.name);
        let thumb = outline
            .whole(
                &seen,
                Side::Right,
                Use {
                    width: 96,
                    links: None,
                    ..used
                },
            )
            .into_string()
            .len();
        assert!(thumb < whole && thumb < 30_000, "{}: {thumb} bytes", machine.name);
    }
}

#[test]
fn every_region_looked_through_names_each_of_its_parts() {
    let none = BTreeSet::new();
    for machine in machines() {
        let outline = Outline::of(&machine);
        let state = BikeState::whole(&machine);
        let seen = Seen {
            machine: &machine,
            state: &state,
            missing: &none,
            now: &none,
            findings: &[],
        };
        for (region, parts) in seen.regions() {
            let svg = outline
                .region(&seen, region, &parts, "r", "#part-", PHONE)
                .into_string();
            well_formed(&svg);
            for part in &parts {
                let name = &machine.parts[part.0].name;
                assert!(
                    svg.contains(&format!("href=\"#part-{name}\"")),
                    "{}: {name}",
                    machine.name
                );
            }
        }
    }
}
