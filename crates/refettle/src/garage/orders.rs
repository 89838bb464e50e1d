//! `refettle orders`

use super::opened::{Place, failed};
use crate::commands::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_papers::wrap::folded;
use refettle_usecases::orders::{OrderView, view};

#[derive(Args)]
pub struct Orders {
    /// Only those for this bike
    #[arg(long)]
    bike: Option<String>,
    /// Also those with nothing to come
    #[arg(long)]
    all: bool,
    #[command(flatten)]
    place: Place,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Orders {
    pub fn run(&self) -> Result<String, Failure> {
        let opened = self.place.open()?;
        let bike = self.bike.as_ref().map(|named| opened.bike(named)).transpose()?;
        let garage = opened.memory.garage().map_err(failed)?;
        let view = view(&garage, opened.today(), bike.as_ref(), self.all);
        if self.json {
            return json(&view);
        }
        if view.orders.is_empty() {
            return Ok("Nothing is to come.\n".to_owned());
        }
        let mut out: String = view.orders.iter().map(order).collect();
        out.push_str(&format!("An order takes {} days here.\n", view.days_to_come));
        Ok(out)
    }
}

fn order(order: &OrderView) -> String {
    let mut text = String::from("order");
    if let Some(from) = &order.from {
        text.push_str(&format!(" from {from}"));
    }
    if let Some(cost) = &order.cost {
        text.push_str(&format!(", {cost}"));
    }
    match &order.due {
        Some(due) if order.late => text.push_str(&format!(", was due {due} and is not here")),
        Some(due) => text.push_str(&format!(", due {due}")),
        None => text.push_str(", nobody knows when"),
    }
    text.push_str(&format!(" ({})", order.id));
    let mut out = folded("", &text);
    for line in &order.lines {
        let of = line
            .bike
            .as_ref()
            .map_or_else(String::new, |bike| format!(", for {bike}"));
        out.push_str(&folded(
            "  ",
            &format!("{} × {}{of}: {}", line.count, line.what, line.stands),
        ));
    }
    out
}
