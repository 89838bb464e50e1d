//! What is kept: upright, small enough, and nothing but pixels.

use crate::sample::{BLUE, GREEN, RED, WHITE, as_a_phone, close, encoded, jpeg, parts, quarters, sample};
use image::{ImageFormat, Rgb, RgbImage, Rgba, RgbaImage};
use refettle_photos::{LONGEST_SIDE, PhotoId, SMALL_SIDE, prepare};

fn read(bytes: &[u8]) -> RgbImage {
    image::load_from_memory_with_format(bytes, ImageFormat::Jpeg)
        .unwrap()
        .to_rgb8()
}

/// The colours of the four quarters, looked at in their middles.
fn seen(picture: &RgbImage) -> [Rgb<u8>; 4] {
    let (w, h) = picture.dimensions();
    [(1, 1), (3, 1), (1, 3), (3, 3)].map(|(x, y)| *picture.get_pixel(x * w / 4, y * h / 4))
}

/// By Exif 2.3, 4.6.4 A: what the row and column numbered 0 of the stored picture are on the scene.
const ORIENTATIONS: [(u16, [Rgb<u8>; 4], bool); 8] = [
    (1, [RED, GREEN, BLUE, WHITE], false), // row 0 top, column 0 left
    (2, [GREEN, RED, WHITE, BLUE], false), // top, right
    (3, [WHITE, BLUE, GREEN, RED], false), // bottom, right
    (4, [BLUE, WHITE, RED, GREEN], false), // bottom, left
    (5, [RED, BLUE, GREEN, WHITE], true),  // left, top
    (6, [BLUE, RED, WHITE, GREEN], true),  // right, top
    (7, [WHITE, GREEN, BLUE, RED], true),  // right, bottom
    (8, [GREEN, WHITE, RED, BLUE], true),  // left, bottom
];

#[test]
fn every_orientation_is_turned_upright() {
    for (orientation, expected, on_its_side) in ORIENTATIONS {
        let kept = prepare(&as_a_phone(&sample(64, 48), orientation)).unwrap();
        let sides = if on_its_side { (48, 64) } else { (64, 48) };
        assert_eq!((kept.width, kept.height), sides, "{orientation}");
        for view in [&kept.whole, &kept.small] {
            let picture = read(view);
            assert_eq!(picture.dimensions(), sides);
            for (seen, wanted) in seen(&picture).into_iter().zip(expected) {
                assert!(close(seen, wanted), "{orientation}: {seen:?} for {wanted:?}");
            }
        }
    }
    // None of the eight: as it is.
    for strange in [0, 9, 77, u16::MAX] {
        let kept = prepare(&as_a_phone(&sample(64, 48), strange)).unwrap();
        assert!(close(seen(&read(&kept.whole))[1], GREEN), "{strange}");
    }
}

#[test]
fn nothing_survives_but_pixels() {
    let sent = as_a_phone(&sample(640, 480), 6);
    let tells = [
        "Exif",
        "PLACE",
        "OWNER",
        "COMMENT",
        "SECOND",
        "adobe",
        "ICC_PROFILE",
    ];
    for told in &tells[..5] {
        assert!(
            sent.windows(told.len()).any(|w| w == told.as_bytes()),
            "the sample has no {told}"
        );
    }
    let kept = prepare(&sent).unwrap();
    for view in [&kept.whole, &kept.small] {
        for told in tells {
            assert!(!view.windows(told.len()).any(|w| w == told.as_bytes()), "{told}");
        }
        let (markers, behind) = parts(view);
        assert_eq!(behind, 0);
        for marker in markers {
            // JFIF's own head, tables, frame and scan (ITU-T T.81, table B.1).
            assert!(matches!(marker, 0xe0 | 0xdb | 0xc0 | 0xc4 | 0xda), "{marker:x}");
        }
    }
    assert_eq!(kept.id, PhotoId::of(&kept.whole));
}

#[test]
fn large_ones_are_made_smaller_and_small_ones_left() {
    for (sent, whole, small) in [
        ((4000, 3000), (LONGEST_SIDE, 1536), (SMALL_SIDE, 240)),
        ((1000, 4096), (500, LONGEST_SIDE), (78, SMALL_SIDE)),
        ((300, 200), (300, 200), (300, 200)),
        ((1, 1), (1, 1), (1, 1)),
        ((5000, 1), (LONGEST_SIDE, 1), (SMALL_SIDE, 1)),
    ] {
        let kept = prepare(&jpeg(&sample(sent.0, sent.1))).unwrap();
        assert_eq!((kept.width, kept.height), whole);
        assert_eq!(read(&kept.whole).dimensions(), whole);
        assert_eq!(read(&kept.small).dimensions(), small);
    }
}

#[test]
fn png_and_webp_are_taken_by_their_content_and_kept_as_jpeg() {
    for format in [ImageFormat::Png, ImageFormat::WebP] {
        let kept = prepare(&encoded(&sample(64, 48), format)).unwrap();
        for (seen, wanted) in seen(&read(&kept.whole))
            .into_iter()
            .zip([RED, GREEN, BLUE, WHITE])
        {
            assert!(close(seen, wanted), "{format:?}");
        }
    }
    // What is seen through becomes white, half of it half.
    let glass = RgbaImage::from_fn(40, 20, |x, _| {
        if x < 20 {
            Rgba([255, 0, 0, 0])
        } else {
            Rgba([0, 0, 0, 128])
        }
    });
    let mut png = std::io::Cursor::new(Vec::new());
    glass.write_to(&mut png, ImageFormat::Png).unwrap();
    let picture = read(&prepare(png.get_ref()).unwrap().whole);
    assert!(close(*picture.get_pixel(8, 10), Rgb([255; 3])));
    assert!(close(*picture.get_pixel(32, 10), Rgb([127; 3])));
}

#[test]
fn the_same_photo_has_the_same_id_and_another_another() {
    let one = as_a_phone(&sample(64, 48), 1);
    assert_eq!(prepare(&one).unwrap(), prepare(&one).unwrap());
    let other = jpeg(&quarters(64, 48, [GREEN, RED, BLUE, WHITE]));
    assert_ne!(prepare(&one).unwrap().id, prepare(&other).unwrap().id);
}
