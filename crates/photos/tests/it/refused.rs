//! Files that are no photos: a clear word each, and never a fault of ours.

use crate::sample::{as_a_phone, encoded, jpeg, parts, sample};
use image::ImageFormat;
use proptest::prelude::*;
use refettle_photos::{LARGEST_FILE, PhotoError, prepare};

fn told(bytes: &[u8]) -> String {
    prepare(bytes).unwrap_err().to_string()
}

/// A PNG's head that says how large it is, and nothing behind it (PNG specification, 11.2.2).
fn png_head(width: u32, height: u32) -> Vec<u8> {
    let mut png = encoded(&sample(2, 2), ImageFormat::Png);
    png[16..20].copy_from_slice(&width.to_be_bytes());
    png[20..24].copy_from_slice(&height.to_be_bytes());
    let mut crc = u32::MAX;
    for byte in &png[12..29] {
        crc ^= u32::from(*byte);
        for _ in 0..8 {
            crc = if crc & 1 == 1 {
                (crc >> 1) ^ 0xedb8_8320
            } else {
                crc >> 1
            };
        }
    }
    png[29..33].copy_from_slice(&(!crc).to_be_bytes());
    png
}

#[test]
fn other_files_are_named_for_what_they_are() {
    for (bytes, words) in [
        (&b""[..], "the file is empty"),
        (b"dear diary", "no picture that is known here"),
        (
            b"\0\0\0\x18ftypheic\0\0\0\0mif1heic",
            "a HEIC picture; send a JPEG, PNG or WebP picture; set the phone's camera",
        ),
        (b"\0\0\0\x1cftypavif\0\0\0\0", "an AVIF picture"),
        (b"\0\0\0\x18ftypmp42\0\0\0\0", "a film"),
        (b"GIF89a\x01\0\x01\0\0\0\0;", "a GIF picture"),
        (b"%PDF-1.7\n", "a PDF"),
        (b"II*\0\x08\0\0\0", "raw picture"),
        (
            b"<svg xmlns='http://www.w3.org/2000/svg'/>",
            "no picture that is known here",
        ),
        (
            b"<html><script>alert(1)</script>",
            "no picture that is known here",
        ),
    ] {
        let told = told(bytes);
        assert!(told.contains(words), "{told}");
    }
}

#[test]
fn huge_ones_are_refused_before_they_are_unpacked() {
    let too_large = told(&vec![0xff; LARGEST_FILE + 1]);
    assert!(
        too_large.contains("31457281 bytes, the most that is taken is 31457280"),
        "{too_large}"
    );
    // A few bytes that say they are a picture of ten thousand million pixels.
    for (width, height) in [
        (100_000, 100_000),
        (8001, 8000),
        (64_000_001, 1),
        (1, 2_000_000_000),
    ] {
        let error = prepare(&png_head(width, height)).unwrap_err();
        assert!(
            matches!(
                error,
                PhotoError::TooManyPixels { .. } | PhotoError::Broken { .. }
            ),
            "{error}"
        );
    }
    let told = told(&png_head(100_000, 100_000));
    assert!(
        told.contains("100000 by 100000 pixels") && told.contains("64000000"),
        "{told}"
    );
}

#[test]
fn cut_off_ones_are_refused() {
    let png = encoded(&sample(200, 150), ImageFormat::Png);
    assert!(told(&png[..png.len() / 2]).contains("broken or cut off"));
    let webp = encoded(&sample(200, 150), ImageFormat::WebP);
    assert!(told(&webp[..webp.len() / 2]).contains("broken or cut off"));
    let whole = jpeg(&sample(200, 150));
    for length in (4..whole.len()).step_by(97) {
        assert!(told(&whole[..length]).contains("broken or cut off"), "{length}");
    }
}

/// How many spoiled files each property sends.
const CASES: u32 = 400;

proptest! {
    #![proptest_config(ProptestConfig { cases: CASES, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_bytes_whatever_are_our_fault(bytes in prop::collection::vec(any::<u8>(), 0..400), head in 0..5_usize) {
        let heads: [&[u8]; 5] = [b"", b"\xff\xd8\xff\xe0", b"\x89PNG\r\n\x1a\n", b"RIFF\x40\0\0\0WEBPVP8 ", b"RIFF\x40\0\0\0WEBPVP8L"];
        let _ = prepare(&[heads[head], &bytes].concat());
    }

    #[test]
    fn a_spoiled_photo_is_refused_or_kept_clean(kind in 0..3_usize, spoils in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..20), cut in prop::option::of(any::<prop::sample::Index>())) {
        let mut bytes = match kind {
            0 => as_a_phone(&sample(40, 30), 6),
            1 => encoded(&sample(40, 30), ImageFormat::Png),
            _ => encoded(&sample(40, 30), ImageFormat::WebP),
        };
        for (at, byte) in spoils {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        if let Some(cut) = cut {
            bytes.truncate(cut.index(bytes.len()));
        }
        if let Ok(kept) = prepare(&bytes) {
            let (markers, behind) = parts(&kept.whole);
            prop_assert!(!markers.contains(&0xe1) && behind == 0);
        }
    }
}
