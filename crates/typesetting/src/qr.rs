//! Codes that a phone reads.

use qrcode::render::svg;
use qrcode::{EcLevel, QrCode};

/// The text does not fit into a code.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the text for a code is {bytes} bytes long and does not fit; shorten it")]
pub struct TooLong {
    /// Its length in bytes.
    pub bytes: usize,
}

/// A QR code (ISO/IEC 18004) of a text as SVG, with its quiet zone of four modules, at correction level M (about 15 % of the
/// code may be dirty).
///
/// # Errors
/// [`TooLong`] beyond what version 40 holds at that level: 2,331 bytes.
pub fn code_svg(text: &str) -> Result<String, TooLong> {
    let code =
        QrCode::with_error_correction_level(text, EcLevel::M).map_err(|_| TooLong { bytes: text.len() })?;
    Ok(code
        .render::<svg::Color<'_>>()
        .quiet_zone(true)
        .min_dimensions(120, 120)
        .build())
}
