//! `refettle drawer`

use super::opened::{Place, failed};
use crate::commands::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_papers::wrap::folded;
use refettle_usecases::drawer::{HeldView, KitLineView, view};

#[derive(Args)]
pub struct Drawer {
    /// Hold this bike's kit against it
    #[arg(long)]
    bike: Option<String>,
    #[command(flatten)]
    place: Place,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Drawer {
    pub fn run(&self) -> Result<String, Failure> {
        let opened = self.place.open()?;
        let look = match &self.bike {
            None => None,
            Some(named) => Some(opened.look(&opened.bike(named)?)?),
        };
        let garage = opened.memory.garage().map_err(failed)?;
        let view = view(&garage, opened.today(), look.as_ref());
        if self.json {
            return json(&view);
        }
        let mut out = String::new();
        match &view.kit {
            Some(kit) if kit.is_empty() => out.push_str("The kit has nothing to use up.\n"),
            Some(kit) => kit.iter().for_each(|line| out.push_str(&kit_line(line))),
            None if view.held.is_empty() => out.push_str(
                "The drawer is empty, as far as anybody said.\nNext:\n  refettle log drawer \"WHAT\" some\n",
            ),
            None => view.held.iter().for_each(|held| out.push_str(&held_line(held))),
        }
        Ok(out)
    }
}

fn held_line(held: &HeldView) -> String {
    let mut text = format!("{}: {}", held.what, held.level);
    if let Some(count) = held.count {
        text.push_str(&format!(" ({count})"));
    }
    for (label, value) in [("in", &held.place), ("opened", &held.opened)] {
        if let Some(value) = value {
            text.push_str(&format!(", {label} {value}"));
        }
    }
    if let Some(aged) = held.aged {
        text.push_str(&format!("; {aged}"));
    }
    folded("", &text)
}

fn kit_line(line: &KitLineView) -> String {
    let amount = match line.unit {
        "" => format!("{} ×", line.n),
        unit => format!("{} {unit}", line.n),
    };
    let stands = match line.stands {
        "here" => "here".to_owned(),
        "short" => "not enough here".to_owned(),
        "none" => "none here".to_owned(),
        "near" => "not here; something near is (ask the fit desk)".to_owned(),
        "on-order" => line
            .due
            .as_ref()
            .map_or_else(|| "on order".to_owned(), |due| format!("on order, due {due}")),
        _ => format!("got one? (item {})", line.item),
    };
    let mut text = format!("{amount} {}: {stands}", line.title);
    if let Some(place) = &line.place {
        text.push_str(&format!(", in {place}"));
    }
    if let Some(day) = &line.order_by {
        text.push_str(&format!(", order by {day}"));
    }
    text.push_str(&format!("; stops: {}", line.stops));
    let mut out = folded("", &text);
    for near in &line.near {
        out.push_str(&folded("  near: ", &format!("{} ({})", near.what, near.differs)));
    }
    out
}
