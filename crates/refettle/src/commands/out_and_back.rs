//! `refettle export`, `import`, `backup`, `restore` and `forget`

use super::data::Data;
use super::json;
use crate::outcome::Failure;
use clap::Args;
use jiff::Timestamp;
use refettle_facts::ids::BikeId;
use refettle_memory::out::OutError;
use refettle_memory::{FILE_NAME, Memory, MemoryError, PersonalId};
use refettle_photos::Album;
use refettle_usecases::out_and_back::{self, NotDone, PersonalLine};
use refettle_usecases::refused::wrong;
use serde::Serialize;
use std::path::{Path, PathBuf};

fn refused(error: NotDone) -> Failure {
    match error {
        NotDone::Out(
            OutError::Occupied { .. }
            | OutError::NotAnExport { .. }
            | OutError::Line { .. }
            | OutError::Diverged { .. }
            | OutError::Differs { .. }
            | OutError::NotABackup { .. }
            | OutError::Memory(MemoryError::AlreadyServed { .. }),
        )
        | NotDone::NoPhoto(_)
        | NotDone::NothingKept(_) => wrong(error.to_string()).into(),
        other => anyhow::Error::from(other).into(),
    }
}

fn open(dir: &Path) -> Result<Memory, Failure> {
    Memory::open(dir).map_err(|error| anyhow::Error::from(error).into())
}

/// A garage that must be there already: reading out of nothing would make an empty one.
fn open_there(dir: &Path) -> Result<Memory, Failure> {
    if dir.join(FILE_NAME).exists() {
        open(dir)
    } else {
        Err(wrong(format!(
            "there is no garage in {}; name its folder with --data DIR",
            dir.display()
        ))
        .into())
    }
}

#[derive(Args)]
pub struct Export {
    /// A new or empty folder
    dir: PathBuf,
    #[command(flatten)]
    data: Data,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Export {
    pub fn run(&self) -> Result<String, Failure> {
        let garage = self.data.folder()?;
        let memory = open_there(&garage)?;
        let view = out_and_back::export(&memory, &Album::of(&garage), &self.dir).map_err(refused)?;
        if self.json {
            return json(&view);
        }
        Ok(format!(
            "Written to {}: {} bikes, {} entries, {} sheets, {} photos, {} pieces of personal data, all readable as text.\n",
            view.folder.display(),
            view.bikes,
            view.entries,
            view.sheets,
            view.photos,
            view.personal
        ))
    }
}

#[derive(Args)]
pub struct Import {
    /// The folder an export was written to
    dir: PathBuf,
    /// Bikes to leave out, separated by commas
    #[arg(long, value_name = "B1,B2", value_delimiter = ',')]
    without: Vec<String>,
    #[command(flatten)]
    data: Data,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Import {
    pub fn run(&self) -> Result<String, Failure> {
        let garage = self.data.folder()?;
        let without = self.without.iter().map(|id| BikeId::new(id.trim()));
        let without = without
            .collect::<Result<_, _>>()
            .map_err(|error| wrong(error.to_string()))?;
        let mut memory = open(&garage)?;
        let view =
            out_and_back::import(&mut memory, &Album::of(&garage), &self.dir, &without).map_err(refused)?;
        if self.json {
            return json(&view);
        }
        Ok(format!(
            "Taken into {}: {} entries and {} photos; {} entries were here already, {} were left out.\n",
            garage.display(),
            view.entries,
            view.photos,
            view.here_already,
            view.left_out
        ))
    }
}

#[derive(Args)]
pub struct Backup {
    /// A new file
    file: PathBuf,
    #[command(flatten)]
    data: Data,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Backup {
    pub fn run(&self) -> Result<String, Failure> {
        let garage = self.data.folder()?;
        let memory = open_there(&garage)?;
        let view = out_and_back::backup(&memory, &Album::of(&garage), &self.file).map_err(refused)?;
        if self.json {
            return json(&view);
        }
        Ok(format!(
            "Backed up to {}, with {} photos. Keep it on another disk.\n",
            view.file.display(),
            view.photos
        ))
    }
}

#[derive(Args)]
pub struct Restore {
    /// A backup
    file: PathBuf,
    #[command(flatten)]
    data: Data,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Restore {
    pub fn run(&self) -> Result<String, Failure> {
        let garage = self.data.folder()?;
        let view = out_and_back::restore(&garage, &self.file, Timestamp::now()).map_err(refused)?;
        if self.json {
            return json(&view);
        }
        let aside = match &view.aside {
            Some(path) => format!(" What was there before is kept as {}.", path.display()),
            None => String::new(),
        };
        Ok(format!(
            "Restored from {}, with {} photos.{aside}\n",
            view.file.display(),
            view.photos
        ))
    }
}

#[derive(Args)]
pub struct Forget {
    /// The reference of what is to be erased; without one, all that is kept is listed
    id: Option<String>,
    #[command(flatten)]
    data: Data,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct PersonalView {
    format: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    erased: Option<String>,
    personal: Vec<PersonalLine>,
}

impl Forget {
    pub fn run(&self) -> Result<String, Failure> {
        let id = self.id.as_deref().map(PersonalId::new).transpose();
        let id = id.map_err(|error| wrong(error.to_string()))?;
        let mut memory = open_there(&self.data.folder()?)?;
        if let Some(id) = &id {
            out_and_back::forget(&mut memory, id).map_err(refused)?;
        }
        let personal = out_and_back::personal(&memory).map_err(refused)?;
        if self.json {
            return json(&PersonalView {
                format: "refettle-personal/1",
                erased: id.map(String::from),
                personal,
            });
        }
        if let Some(id) = id {
            return Ok(format!(
                "{id} is erased. The bike's history stays whole. Backups and exports made before still hold it: delete them, or erase in them too.\n"
            ));
        }
        if personal.is_empty() {
            return Ok("No personal data is kept.\n".to_owned());
        }
        let line =
            |one: &PersonalLine| format!("{}  {}: {}\n", one.id, one.what, one.text.replace('\n', ", "));
        Ok(personal.iter().map(line).collect())
    }
}
