//! A paper that is ready to be typeset, and the blocks that long papers are made of.

use refettle_typesetting::{Failed, PaperSize, Picture, Sheet, Template};
use serde::Serialize;
use serde_json::Value;

/// A paper: what is on it, not yet on pages.
#[derive(Debug, Clone)]
pub struct Paper {
    pub(crate) template: Template,
    pub(crate) data: Value,
    pub(crate) pictures: Vec<Picture>,
}

impl Paper {
    /// The paper as a PDF: fonts embedded, tagged, with title and language.
    ///
    /// # Errors
    /// [`Failed`] when a picture cannot be read, or by a fault of ours.
    pub fn pdf(&self, size: PaperSize) -> Result<Vec<u8>, Failed> {
        Sheet {
            template: self.template,
            paper: size,
            data: &self.data,
            pictures: &self.pictures,
        }
        .typeset()
    }

    /// The data as it goes to the typesetter: what a paper that was issued is frozen as.
    #[must_use]
    pub fn data(&self) -> &Value {
        &self.data
    }

    /// A paper of blocks over as many pages as it takes.
    ///
    /// # Errors
    /// [`Failed::Data`] if the blocks cannot be written as JSON, which is a fault of ours.
    pub fn of_blocks(
        title: &str,
        lead: &str,
        foot: &str,
        blocks: &[Block],
        pictures: Vec<Picture>,
    ) -> Result<Paper, Failed> {
        let blocks = serde_json::to_value(blocks).map_err(|e| Failed::Data(e.to_string()))?;
        Ok(Paper {
            template: Template::Pages,
            data: serde_json::json!({ "title": title, "lead": lead, "foot": foot, "lang": "en", "blocks": blocks }),
            pictures,
        })
    }
}

/// A piece of a long paper.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "is", rename_all = "kebab-case")]
pub enum Block {
    /// A heading, of level 2 or 3.
    Heading {
        /// 2 or 3; 1 is the paper's title.
        level: u8,
        /// Its words.
        text: String,
    },
    /// A paragraph.
    Text {
        /// Its words.
        text: String,
    },
    /// A list.
    Bullets {
        /// Its lines.
        items: Vec<String>,
    },
    /// What can hurt, set apart.
    Caution {
        /// A few words.
        title: String,
        /// The whole.
        text: String,
    },
    /// A table; it breaks between rows and repeats its head.
    Table {
        /// Titles of the columns.
        head: Vec<String>,
        /// Their widths, as shares.
        widths: Vec<f64>,
        /// Rows, each with as many cells as the head.
        rows: Vec<Vec<String>>,
        /// Columns of numbers, counted from 0, set right.
        numbers: Vec<usize>,
    },
    /// Pictures, two beside each other.
    Pictures {
        /// Which.
        items: Vec<Caption>,
    },
    /// Named fields; those without a value are lines to write on.
    Fields {
        /// Which.
        items: Vec<Field>,
    },
    /// Boxes to tick.
    Checks {
        /// Which.
        items: Vec<Check>,
    },
    /// Lines to sign on, beside each other.
    Signatures {
        /// Who signs.
        items: Vec<String>,
    },
    /// What follows begins a page.
    NewPage,
}

/// A picture with words under it, which are also its alternative text.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Caption {
    /// Name of the picture.
    pub name: String,
    /// The words.
    pub caption: String,
}

/// A named field.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Field {
    /// Its name.
    pub label: String,
    /// What stands in it; `None` leaves a line to write on.
    pub value: Option<String>,
}

/// A box to tick.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Check {
    /// What for.
    pub text: String,
    /// What stands under it, smaller.
    pub small: Option<String>,
    /// Ticked already.
    pub done: bool,
}

impl Block {
    /// A heading of level 2.
    #[must_use]
    pub fn heading(text: &str) -> Block {
        Block::Heading {
            level: 2,
            text: text.to_owned(),
        }
    }

    /// A paragraph.
    #[must_use]
    pub fn text(text: impl Into<String>) -> Block {
        Block::Text { text: text.into() }
    }
}
