//! `refettle` alone: what the tool does, in one screen.

use crate::outcome::Failure;
use refettle_papers::first_screen;
use refettle_usecases::demo;

pub fn run() -> Result<String, Failure> {
    Ok(first_screen::text(&demo::evening()?.without_questions()))
}
