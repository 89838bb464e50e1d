//! The independent readers.

use std::path::{Path, PathBuf};
use std::process::Command;

/// What a reader printed. One that is not installed, or fails, fails the test and says which.
pub fn run(program: &str, args: &[&str]) -> String {
    let output = Command::new(program).args(args).output().unwrap_or_else(|error| {
        panic!("{program} cannot be run ({error}); install poppler-utils and zbar-tools")
    });
    assert!(
        output.status.success(),
        "{program} {args:?}: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8_lossy(&output.stdout).into_owned()
}

/// A PDF in a folder of its own.
pub struct Pdf {
    dir: tempfile::TempDir,
    path: PathBuf,
}

impl Pdf {
    pub fn of(bytes: &[u8]) -> Pdf {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("paper.pdf");
        std::fs::write(&path, bytes).unwrap();
        // To be looked at: PAPERS_OUT names a folder that keeps every paper the tests make.
        if let Some(out) = std::env::var_os("PAPERS_OUT") {
            let name = format!("{}.pdf", &refettle_memory::hash_of(bytes)[..12]);
            std::fs::write(Path::new(&out).join(name), bytes).unwrap();
        }
        Pdf { dir, path }
    }

    fn arg(&self) -> &str {
        self.path.to_str().unwrap()
    }

    /// Its words, with every run of white space one space.
    pub fn words(&self) -> String {
        let text = run("pdftotext", &["-layout", "-enc", "UTF-8", self.arg(), "-"]);
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// Its words in the order of the file, column by column.
    pub fn plain(&self) -> String {
        let text = run("pdftotext", &["-enc", "UTF-8", self.arg(), "-"]);
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// What the file says of itself: a line a key.
    pub fn info(&self) -> String {
        run("pdfinfo", &[self.arg()])
    }

    /// The fonts, a line each.
    pub fn fonts(&self) -> Vec<String> {
        let table = run("pdffonts", &[self.arg()]);
        table.lines().skip(2).map(str::to_owned).collect()
    }

    /// Its pages as grey pictures at so many dots an inch.
    pub fn pages(&self, dpi: u32) -> Vec<image::GrayImage> {
        self.page_files(dpi)
            .iter()
            .map(|path| image::open(path).unwrap().to_luma8())
            .collect()
    }

    /// Its pages as files.
    pub fn page_files(&self, dpi: u32) -> Vec<PathBuf> {
        let stem = self.dir.path().join(format!("page-{dpi}"));
        let dots = dpi.to_string();
        run(
            "pdftoppm",
            &["-r", &dots, "-png", self.arg(), stem.to_str().unwrap()],
        );
        let mut files: Vec<PathBuf> = std::fs::read_dir(self.dir.path())
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .filter(|path| path.to_str().unwrap().starts_with(stem.to_str().unwrap()))
            .collect();
        files.sort();
        files
    }
}
