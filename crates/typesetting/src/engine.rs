//! One sheet, from template and data to the bytes of a PDF.

use crate::template::{HOUSE, PaperSize, Template};
use serde::Serialize;
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::OnceLock;
use typst::diag::{FileError, FileResult, SourceDiagnostic, Warned};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_layout::PagedDocument;
use typst_pdf::PdfOptions;

/// A picture that a template may place, by the name under which the data speaks of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// Its name with ending, such as `outline.svg`; the ending says what it is (`svg`, `jpg`, `png`).
    pub name: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// A sheet to be typeset.
#[derive(Debug, Clone)]
pub struct Sheet<'a, D> {
    /// Which paper.
    pub template: Template,
    /// On what size of paper.
    pub paper: PaperSize,
    /// What goes into it; the template says what it reads.
    pub data: &'a D,
    /// Pictures it places.
    pub pictures: &'a [Picture],
}

/// Why a sheet was not typeset. All of it is our own fault, but for a picture that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Failed {
    /// The data cannot be written down for the template.
    #[error("the data of this paper cannot be written down: {0}")]
    Data(String),
    /// The template and the data do not fit, a glyph is missing, or a picture cannot be read.
    #[error("this paper cannot be typeset: {0}")]
    Typesetting(String),
}

impl<D: Serialize> Sheet<'_, D> {
    /// Typesets it. Warnings count as failures: a font that is not there would make text vanish.
    ///
    /// # Errors
    /// [`Failed`].
    pub fn typeset(&self) -> Result<Vec<u8>, Failed> {
        let world = Table::lay(self)?;
        let Warned { output, warnings } = typst::compile::<PagedDocument>(&world);
        let document = output.map_err(|errors| Failed::Typesetting(told(&errors)))?;
        if !warnings.is_empty() {
            return Err(Failed::Typesetting(told(&warnings)));
        }
        let options = PdfOptions {
            creator: typst::foundations::Smart::Custom(Some("Refettle".into())),
            ..PdfOptions::default()
        };
        let pdf = typst_pdf::pdf(&document, &options).map_err(|errors| Failed::Typesetting(told(&errors)));
        // What one paper needed is no use to the next; a server that runs for weeks must not keep it.
        typst::comemo::evict(2);
        pdf
    }
}

fn told(all: &[SourceDiagnostic]) -> String {
    let lines: Vec<String> = all.iter().map(|d| d.message.to_string()).collect();
    lines.join("; ")
}

/// All that one sheet is made from.
struct Table {
    main: FileId,
    sources: BTreeMap<PathBuf, Source>,
    files: BTreeMap<PathBuf, Bytes>,
}

impl Table {
    fn lay<D: Serialize>(sheet: &Sheet<'_, D>) -> Result<Table, Failed> {
        let main = place("main.typ")?;
        let mut sources = BTreeMap::new();
        for (name, text) in [("main.typ", sheet.template.text()), ("house.typ", HOUSE)] {
            sources.insert(PathBuf::from(name), Source::new(place(name)?, text.to_owned()));
        }
        let data = serde_json::to_vec(sheet.data).map_err(|e| Failed::Data(e.to_string()))?;
        let paper = format!("{:?}", sheet.paper.name());
        let mut files = BTreeMap::from([
            (PathBuf::from("data.json"), Bytes::new(data)),
            (PathBuf::from("paper.json"), Bytes::new(paper.into_bytes())),
        ]);
        for picture in sheet.pictures {
            files.insert(PathBuf::from(&picture.name), Bytes::new(picture.bytes.clone()));
        }
        Ok(Table { main, sources, files })
    }
}

fn place(name: &str) -> Result<FileId, Failed> {
    let path = VirtualPath::new(name).map_err(|_| Failed::Data(format!("'{name}' is no name of a file")))?;
    Ok(RootedPath::new(VirtualRoot::Project, path).intern())
}

fn path_of(id: FileId) -> PathBuf {
    PathBuf::from(id.vpath().get_without_slash())
}

/// The fonts, read once.
struct Fonts {
    book: LazyHash<FontBook>,
    all: Vec<Font>,
}

fn fonts() -> &'static Fonts {
    static FONTS: OnceLock<Fonts> = OnceLock::new();
    FONTS.get_or_init(|| {
        let all: Vec<Font> = [
            dejavu::sans::regular(),
            dejavu::sans::bold(),
            dejavu::sans::oblique(),
            dejavu::sans_mono::regular(),
        ]
        .into_iter()
        .flat_map(|bytes| Font::iter(Bytes::new(bytes)))
        .collect();
        Fonts {
            book: LazyHash::new(FontBook::from_fonts(&all)),
            all,
        }
    })
}

fn library() -> &'static LazyHash<Library> {
    static LIBRARY: OnceLock<LazyHash<Library>> = OnceLock::new();
    LIBRARY.get_or_init(|| LazyHash::new(Library::default()))
}

impl World for Table {
    fn library(&self) -> &LazyHash<Library> {
        library()
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &fonts().book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let path = path_of(id);
        self.sources.get(&path).cloned().ok_or(FileError::NotFound(path))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let path = path_of(id);
        self.files.get(&path).cloned().ok_or(FileError::NotFound(path))
    }

    fn font(&self, index: usize) -> Option<Font> {
        fonts().all.get(index).cloned()
    }

    /// No clock here: a paper's date is data.
    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}
