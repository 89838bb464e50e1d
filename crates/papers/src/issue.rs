//! Any paper of a bike in the garage, by its name: the one door for every surface.

use crate::bag_labels::{self, LabelSheet};
use crate::paper::Paper;
use crate::{bench_sheet, history_folder, kit_checklist, sale_paper};
use refettle_memory::entry::PlateKind;
use refettle_memory::{Memory, MemoryError, PersonalId};
use refettle_photos::{Album, PhotoId, View};
use refettle_typesetting::{Failed, Picture};
use refettle_usecases::history::{self, History};
use refettle_usecases::look::Look;
use refettle_usecases::money_words;
use refettle_usecases::road::{self, RoadView};
use refettle_usecases::shortcuts::ShortcutLine;
use std::path::Path;

pub use refettle_typesetting::PaperSize;

/// Which paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// The running order on one or two pages.
    BenchSheet,
    /// Everything to have at hand before starting.
    Kit,
    /// Labels for bags, on this sheet.
    Labels(LabelSheet),
    /// For the buyer.
    History,
    /// A draft of the paper two people sign.
    Sale,
}

impl Which {
    /// The paper of that name; labels go on that sheet.
    #[must_use]
    pub fn named(name: &str, labels: LabelSheet) -> Option<Which> {
        match name {
            "bench-sheet" => Some(Which::BenchSheet),
            "kit" => Some(Which::Kit),
            "labels" => Some(Which::Labels(labels)),
            "history" => Some(Which::History),
            "sale" => Some(Which::Sale),
            _ => None,
        }
    }
}

/// A paper that was made.
#[derive(Debug, Clone)]
pub struct Issued {
    /// What it was made from.
    pub paper: Paper,
    /// The PDF.
    pub pdf: Vec<u8>,
}

/// Why a paper was not made.
#[derive(Debug, thiserror::Error)]
pub enum NotIssued {
    /// There is no plan, so no order of work to print.
    #[error("there is no plan from here, so there is nothing to print: {0}")]
    NoPlan(String),
    /// What the garage's file says.
    #[error(transparent)]
    Memory(#[from] MemoryError),
    /// Typesetting failed.
    #[error(transparent)]
    Failed(#[from] Failed),
}

/// Makes a paper of a bike as it stands. `scheme` is the road check's; `folder` is where the garage keeps its photos.
///
/// # Errors
/// [`NotIssued`].
pub fn issue(
    memory: &Memory,
    folder: &Path,
    look: &Look,
    which: Which,
    size: PaperSize,
    scheme: Option<&str>,
) -> Result<Issued, NotIssued> {
    let paper = paper(memory, folder, look, which, scheme)?;
    let pdf = paper.pdf(size)?;
    Ok(Issued { paper, pdf })
}

fn paper(
    memory: &Memory,
    folder: &Path,
    look: &Look,
    which: Which,
    scheme: Option<&str>,
) -> Result<Paper, NotIssued> {
    let title = look.now.title.as_str();
    let issued = history::day(look.at);
    let evening = || {
        look.plan
            .as_ref()
            .map_err(|view| NotIssued::NoPlan(view.causes.join("; ")))
    };
    Ok(match which {
        Which::BenchSheet => bench_sheet::paper(&evening()?.without_questions(), title, &issued),
        Which::Kit => kit_checklist::paper(&evening()?.kit(), title, &issued)?,
        Which::Labels(sheet) => bag_labels::paper(&evening()?.kit(), title, sheet),
        Which::History => {
            let told = Told::of(memory, look, scheme)?;
            history_folder::paper(&history_folder::Folder {
                history: &told.history,
                road: &told.road,
                shortcuts: &told.shortcuts,
                frame_number: told.frame_number.as_deref(),
                issued: &issued,
                photos: &photos(folder, &told.history),
            })?
        }
        Which::Sale => {
            let told = Told::of(memory, look, scheme)?;
            let price = look.now.book.asking.as_ref().map(money_words::shown);
            sale_paper::paper(&sale_paper::Sale {
                history: &told.history,
                road: &told.road,
                shortcuts: &told.shortcuts,
                frame_number: told.frame_number.as_deref(),
                registration: told.registration.as_deref(),
                price: price.as_deref(),
                seller: None,
                buyer: None,
                issued: &issued,
            })?
        }
    })
}

/// What both papers for the buyer tell.
struct Told {
    history: History,
    road: RoadView,
    shortcuts: Vec<ShortcutLine>,
    frame_number: Option<String>,
    registration: Option<String>,
}

impl Told {
    fn of(memory: &Memory, look: &Look, scheme: Option<&str>) -> Result<Told, NotIssued> {
        let check = road::road(&look.machine, &look.entries, &look.now, scheme, None);
        let number = |kind: PlateKind| -> Result<Option<String>, MemoryError> {
            let id: Option<&PersonalId> = look.now.book.numbers.get(&kind);
            id.map_or(Ok(None), |id| memory.personal(id))
        };
        Ok(Told {
            history: history::history(&look.machine, &look.entries, &look.now),
            road: road::view(look.bike.as_str(), &check, scheme),
            shortcuts: look.shortcuts(),
            frame_number: number(PlateKind::Frame)?,
            registration: number(PlateKind::Registration)?,
        })
    }
}

/// The photos the folder shows. One that cannot be read is left out, not the folder.
fn photos(folder: &Path, history: &History) -> Vec<Picture> {
    let album = Album::of(folder);
    let read = |line: &history::PhotoLine| {
        let id = PhotoId::new(&line.photo).ok()?;
        let bytes = album.read(&id, View::Whole).ok()?;
        Some(Picture {
            name: history_folder::photo_name(&line.photo),
            bytes,
        })
    };
    history.photos.iter().filter_map(read).collect()
}
