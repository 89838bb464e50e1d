//! Any paper of a bike in the garage, by its name: the one door for every surface.

use crate::bag_labels::{self, LabelSheet};
use crate::paper::Paper;
use crate::{bench_sheet, cover_sheet, history_folder, kit_checklist, sale_paper};
use jiff::Timestamp;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_memory::entry::{Entry, FileHash, PaperIssued, PaperIssuedKind, PlateKind};
use refettle_memory::{Memory, MemoryError, NewEntry, PersonalId, Tap, hash_of};
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
    /// What comes off and what stays, for the wall.
    Cover,
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
            "cover" => Some(Which::Cover),
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
    /// What is kept of it when it is handed over: what it was made from, without personal data, and the hash of the PDF.
    /// Only papers for the buyer are kept; those for the bench can be made again at any time.
    pub kept: Option<PaperIssued>,
}

impl Issued {
    /// SHA-256 of the PDF.
    #[must_use]
    pub fn sha256(&self) -> String {
        hash_of(&self.pdf)
    }

    /// Keeps a paper that is handed over, frozen as it was. A paper for the bench keeps nothing.
    ///
    /// # Errors
    /// What [`MemoryError`] says of the garage's file.
    pub fn hand_over(
        &self,
        memory: &mut Memory,
        bike: &BikeId,
        at: Timestamp,
        tap: Option<&Tap>,
    ) -> Result<Option<EntryId>, MemoryError> {
        let Some(kept) = &self.kept else {
            return Ok(None);
        };
        let entry = Entry::PaperIssued(kept.clone());
        let new = NewEntry {
            bike,
            at,
            tap,
            seen: None,
            entry: &entry,
        };
        memory.append_new(new).map(Some)
    }
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

/// Makes a paper of a bike as it stands. `scheme` is the road check's; `folder` is where the garage keeps its photos. Nothing is
/// kept: that is [`Issued::hand_over`].
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
    let title = look.now.title.as_str();
    let issued = history::day(look.at);
    let evening = || {
        look.plan
            .as_ref()
            .map_err(|view| NotIssued::NoPlan(view.causes.join("; ")))
    };
    let for_the_bench = |paper: Paper| {
        let pdf = paper.pdf(size)?;
        Ok(Issued {
            paper,
            pdf,
            kept: None,
        })
    };
    match which {
        Which::BenchSheet => for_the_bench(bench_sheet::paper(
            &evening()?.without_questions(),
            title,
            &issued,
        )),
        Which::Kit => for_the_bench(kit_checklist::paper(&evening()?.kit(), title, &issued)?),
        Which::Labels(sheet) => for_the_bench(bag_labels::paper(&evening()?.kit(), title, sheet)),
        Which::Cover => for_the_bench(cover_sheet::paper(look, &evening()?.found.actions, &issued)),
        Which::History => {
            let told = Told::of(memory, folder, look, scheme)?;
            for_the_buyer(PaperIssuedKind::HistoryFolder, size, &told, |told| {
                told.history_folder(&issued)
            })
        }
        Which::Sale => {
            let told = Told::of(memory, folder, look, scheme)?;
            for_the_buyer(PaperIssuedKind::SalePaper, size, &told, |told| {
                told.sale_paper(&issued)
            })
        }
    }
}

/// A paper for the buyer is made twice: as it is handed over, and as it is kept, without personal data.
fn for_the_buyer(
    paper: PaperIssuedKind,
    size: PaperSize,
    told: &Told,
    make: impl Fn(&Told) -> Result<Paper, Failed>,
) -> Result<Issued, NotIssued> {
    let made = make(told)?;
    let pdf = made.pdf(size)?;
    let sha256 = FileHash::new(&hash_of(&pdf)).map_err(|e| Failed::Data(e.to_string()))?;
    let kept = make(&told.without_personal_data())?;
    Ok(Issued {
        kept: Some(PaperIssued {
            paper,
            data: kept.data().clone(),
            sha256,
        }),
        paper: made,
        pdf,
    })
}

/// What both papers for the buyer tell.
#[derive(Clone)]
struct Told {
    history: History,
    road: RoadView,
    shortcuts: Vec<ShortcutLine>,
    frame_number: Option<String>,
    registration: Option<String>,
    price: Option<String>,
    buyer: Option<String>,
    photos: Vec<Picture>,
}

/// What stands in a paper that is kept where the one handed over has personal data.
const APART: &str = "kept apart: personal data";

impl Told {
    fn of(memory: &Memory, folder: &Path, look: &Look, scheme: Option<&str>) -> Result<Told, NotIssued> {
        let book = &look.now.book;
        let check = road::road(&look.machine, &look.entries, &look.now, scheme, None);
        let text = |id: Option<&PersonalId>| id.map_or(Ok(None), |id| memory.personal(id));
        let sold = book.sold.as_ref().map(|kept| &kept.body);
        let price = sold.map(|sold| &sold.price).or(book.asking.as_ref());
        let history = history::history(&look.machine, &look.entries, &look.now);
        Ok(Told {
            photos: photos(folder, &history),
            history,
            road: road::view(look.bike.as_str(), &check, scheme),
            shortcuts: look.shortcuts(),
            frame_number: text(book.numbers.get(&PlateKind::Frame))?,
            registration: text(book.numbers.get(&PlateKind::Registration))?,
            price: price.map(money_words::shown),
            buyer: text(sold.and_then(|sold| sold.buyer.as_ref()))?,
        })
    }

    fn without_personal_data(&self) -> Told {
        let apart = |text: &Option<String>| text.as_ref().map(|_| APART.to_owned());
        Told {
            frame_number: apart(&self.frame_number),
            registration: apart(&self.registration),
            buyer: apart(&self.buyer),
            ..self.clone()
        }
    }

    fn history_folder(&self, issued: &str) -> Result<Paper, Failed> {
        history_folder::paper(&history_folder::Folder {
            history: &self.history,
            road: &self.road,
            shortcuts: &self.shortcuts,
            frame_number: self.frame_number.as_deref(),
            issued,
            photos: &self.photos,
        })
    }

    fn sale_paper(&self, issued: &str) -> Result<Paper, Failed> {
        sale_paper::paper(&sale_paper::Sale {
            history: &self.history,
            road: &self.road,
            shortcuts: &self.shortcuts,
            frame_number: self.frame_number.as_deref(),
            registration: self.registration.as_deref(),
            price: self.price.as_deref(),
            seller: None,
            buyer: self.buyer.as_deref(),
            issued,
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
