//! From the bytes that came to the pictures that are kept.

use crate::error::PhotoError;
use crate::id::PhotoId;
use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, ImageDecoder, ImageError, ImageFormat, ImageReader, Limits, Rgb, RgbImage};
use std::io::Cursor;

/// Largest file taken, in bytes: 30 MiB, above what phones make of one photo. Judgement, no source.
pub const LARGEST_FILE: usize = 30 * 1024 * 1024;
/// Most pixels taken: 64 million, so that one photo needs some 200 megabytes for a moment. Judgement, no source.
pub const MOST_PIXELS: u64 = 64_000_000;
/// Longest side kept, in pixels: threads and part numbers stay readable. Judgement, no source.
pub const LONGEST_SIDE: u32 = 2048;
/// Longest side of the small view, in pixels: sharp on a phone's strip of photos. Judgement, no source.
pub const SMALL_SIDE: u32 = 320;
/// Most bytes a decoder may ask for: four bytes for each of the most pixels, and some.
const MOST_MEMORY: u64 = 300_000_000;
/// JPEG qualities of the two views. Judgement, no source.
const QUALITY: u8 = 86;
const SMALL_QUALITY: u8 = 80;

/// A photo ready to be kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Prepared {
    /// Its id: the hash of `whole`.
    pub id: PhotoId,
    /// As JPEG, no longer than [`LONGEST_SIDE`].
    pub whole: Vec<u8>,
    /// As JPEG, no longer than [`SMALL_SIDE`].
    pub small: Vec<u8>,
    /// Pixels across, of `whole`.
    pub width: u32,
    /// Pixels down, of `whole`.
    pub height: u32,
}

/// Checks a picture by its content, turns it upright, makes it smaller where needed and writes it anew. Colours are
/// taken as sRGB; transparent parts become white; of a moving picture the first is taken.
///
/// # Errors
/// [`PhotoError`] for everything that is no JPEG, PNG or WebP picture within the limits.
pub fn prepare(bytes: &[u8]) -> Result<Prepared, PhotoError> {
    if bytes.is_empty() {
        return Err(PhotoError::Empty);
    }
    if bytes.len() > LARGEST_FILE {
        return Err(PhotoError::TooLarge {
            bytes: bytes.len() as u64,
        });
    }
    let upright = decode(bytes)?;
    let whole = on_white(fitted(upright, LONGEST_SIDE));
    let small = on_white(fitted(DynamicImage::ImageRgb8(whole.clone()), SMALL_SIDE));
    let (width, height) = whole.dimensions();
    let whole = encode(&whole, QUALITY)?;
    Ok(Prepared {
        id: PhotoId::of(&whole),
        small: encode(&small, SMALL_QUALITY)?,
        whole,
        width,
        height,
    })
}

fn decode(bytes: &[u8]) -> Result<DynamicImage, PhotoError> {
    let mut reader = ImageReader::new(Cursor::new(bytes))
        .with_guessed_format()
        .map_err(|error| PhotoError::Broken {
            reason: error.to_string(),
        })?;
    match reader.format() {
        Some(ImageFormat::Jpeg | ImageFormat::Png | ImageFormat::WebP) => {}
        _ => return Err(other_kind(bytes)),
    }
    if reader.format() == Some(ImageFormat::Jpeg) && !has_an_end(bytes) {
        return Err(PhotoError::Broken {
            reason: "it has no end".to_owned(),
        });
    }
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(|error| broken(&error))?;
    let (width, height) = decoder.dimensions();
    let too_many = PhotoError::TooManyPixels { width, height };
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(too_many);
    }
    if width == 0 || height == 0 {
        return Err(PhotoError::Broken {
            reason: "it has no pixels".to_owned(),
        });
    }
    // A note on orientation that cannot be read is no reason to refuse the picture.
    let orientation = decoder.orientation().ok();
    let mut picture = DynamicImage::from_decoder(decoder).map_err(|error| match error {
        ImageError::Limits(_) => too_many,
        other => broken(&other),
    })?;
    if let Some(orientation) = orientation {
        picture.apply_orientation(orientation);
    }
    Ok(picture)
}

/// Whether a JPEG's pixels come to an end: the decoder fills what is missing with grey and says nothing. Walks the
/// segments up to the first scan (ITU-T T.81, B.1.1), then looks for the end marker, which pixels cannot hold.
fn has_an_end(jpeg: &[u8]) -> bool {
    let mut at = 2;
    loop {
        match jpeg.get(at..at + 2) {
            Some([0xff, 0xff]) => at += 1,
            Some([0xff, marker]) => {
                let Some(&[high, low]) = jpeg.get(at + 2..at + 4) else {
                    return false;
                };
                at += 2 + usize::from(u16::from_be_bytes([high, low]));
                if *marker == 0xda {
                    break;
                }
            }
            _ => return false,
        }
    }
    let pixels = jpeg.get(at..).unwrap_or_default();
    pixels.windows(2).any(|two| two == [0xff, 0xd9])
}

fn broken(error: &ImageError) -> PhotoError {
    PhotoError::Broken {
        reason: error.to_string(),
    }
}

/// Names what people send by mistake, by the first bytes of each kind.
fn other_kind(bytes: &[u8]) -> PhotoError {
    let at = |from: usize, mark: &[u8]| bytes.get(from..from + mark.len()) == Some(mark);
    let (what, advice) = if at(4, b"ftyphei") || at(4, b"ftypmif1") || at(4, b"ftyphev") || at(4, b"ftypmsf1")
    {
        (
            "a HEIC picture",
            "; set the phone's camera to its most compatible format, or send a screenshot",
        )
    } else if at(4, b"ftypavif") {
        ("an AVIF picture", "")
    } else if at(4, b"ftyp") {
        ("a film", "")
    } else if at(0, b"GIF8") {
        ("a GIF picture", "")
    } else if at(0, b"%PDF-") {
        ("a PDF", "")
    } else if at(0, b"II*\0") || at(0, b"MM\0*") {
        (
            "a TIFF or raw picture",
            "; raw pictures are made into JPEG by the camera or its program",
        )
    } else {
        ("no picture that is known here", "")
    };
    PhotoError::OtherKind { what, advice }
}

/// No longer than `side`; never made larger. Each new pixel is the mean of those it stands for.
fn fitted(picture: DynamicImage, side: u32) -> DynamicImage {
    if picture.width() <= side && picture.height() <= side {
        picture
    } else {
        picture.thumbnail(side, side)
    }
}

fn on_white(picture: DynamicImage) -> RgbImage {
    if !picture.color().has_alpha() {
        return picture.into_rgb8();
    }
    let see_through = picture.into_rgba8();
    let (width, height) = see_through.dimensions();
    let mut out = RgbImage::new(width, height);
    for (to, from) in out.pixels_mut().zip(see_through.pixels()) {
        let [r, g, b, a] = from.0;
        // 0 and 255 stay what they are: (x a + 255 (255 - a)) / 255.
        let mix = |x: u8| {
            let sum = u32::from(x) * u32::from(a) + 255 * (255 - u32::from(a));
            u8::try_from(sum / 255).unwrap_or(255)
        };
        *to = Rgb([mix(r), mix(g), mix(b)]);
    }
    out
}

fn encode(picture: &RgbImage, quality: u8) -> Result<Vec<u8>, PhotoError> {
    let mut out = Vec::new();
    picture
        .write_with_encoder(JpegEncoder::new_with_quality(&mut out, quality))
        .map_err(|error| PhotoError::NotWritten {
            reason: error.to_string(),
        })?;
    Ok(out)
}
