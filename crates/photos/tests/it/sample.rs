//! Pictures to send, and a reader of JPEG's parts.

use image::codecs::jpeg::JpegEncoder;
use image::{ImageFormat, Rgb, RgbImage};
use std::io::Cursor;

pub const RED: Rgb<u8> = Rgb([220, 20, 20]);
pub const GREEN: Rgb<u8> = Rgb([20, 200, 20]);
pub const BLUE: Rgb<u8> = Rgb([20, 20, 220]);
pub const WHITE: Rgb<u8> = Rgb([250, 250, 250]);

/// Four quarters, from the upper left by rows.
pub fn quarters(width: u32, height: u32, colours: [Rgb<u8>; 4]) -> RgbImage {
    RgbImage::from_fn(width, height, |x, y| {
        colours[usize::from(x >= width / 2) + 2 * usize::from(y >= height / 2)]
    })
}

pub fn sample(width: u32, height: u32) -> RgbImage {
    quarters(width, height, [RED, GREEN, BLUE, WHITE])
}

pub fn jpeg(picture: &RgbImage) -> Vec<u8> {
    let mut out = Vec::new();
    picture
        .write_with_encoder(JpegEncoder::new_with_quality(&mut out, 95))
        .unwrap();
    out
}

pub fn encoded(picture: &RgbImage, format: ImageFormat) -> Vec<u8> {
    let mut out = Cursor::new(Vec::new());
    picture.write_to(&mut out, format).unwrap();
    out.into_inner()
}

/// A marker segment with its length (ITU-T T.81, B.1.1.4).
fn segment(marker: u8, body: &[u8]) -> Vec<u8> {
    let length = u16::try_from(body.len() + 2).unwrap().to_be_bytes();
    [&[0xff, marker][..], &length, body].concat()
}

/// An Exif block (TIFF 6.0 layout, big-endian) with an orientation and a place, as a phone writes it.
fn exif(orientation: u16) -> Vec<u8> {
    let entry = |tag: u16, kind: u16, count: u32, value: [u8; 4]| {
        [
            &tag.to_be_bytes()[..],
            &kind.to_be_bytes(),
            &count.to_be_bytes(),
            &value,
        ]
        .concat()
    };
    let orientation = orientation.to_be_bytes();
    let gps_at = 8 + 2 + 2 * 12 + 4;
    let mut tiff = [&b"MM\0*"[..], &8_u32.to_be_bytes(), &2_u16.to_be_bytes()].concat();
    tiff.extend(entry(0x0112, 3, 1, [orientation[0], orientation[1], 0, 0]));
    tiff.extend(entry(0x8825, 4, 1, u32::try_from(gps_at).unwrap().to_be_bytes()));
    tiff.extend(0_u32.to_be_bytes());
    // One entry of the place: its hemisphere; then words that must not survive.
    tiff.extend(1_u16.to_be_bytes());
    tiff.extend(entry(0x0001, 2, 2, *b"N\0\0\0"));
    tiff.extend(0_u32.to_be_bytes());
    tiff.extend(b"PLACE-OF-THE-GARAGE");
    [&b"Exif\0\0"[..], &tiff].concat()
}

/// The picture as a phone writes it: with a place, an orientation, an owner, a comment, a colour profile that is none,
/// and a second file behind its end.
pub fn as_a_phone(picture: &RgbImage, orientation: u16) -> Vec<u8> {
    let plain = jpeg(picture);
    let (start, rest) = plain.split_at(2);
    [
        start,
        &segment(0xe1, &exif(orientation)),
        &segment(0xe1, b"http://ns.adobe.com/xap/1.0/\0<x>OWNER-OF-THE-PHONE</x>"),
        &segment(0xfe, b"COMMENT-OF-THE-CAMERA"),
        rest,
        b"SECOND-FILE-BEHIND",
    ]
    .concat()
}

/// The markers of all segments before the pixels, and what is behind the end of the picture.
pub fn parts(jpeg: &[u8]) -> (Vec<u8>, usize) {
    assert_eq!(jpeg[..2], [0xff, 0xd8]);
    let (mut markers, mut at) = (vec![], 2);
    loop {
        assert_eq!(jpeg[at], 0xff);
        markers.push(jpeg[at + 1]);
        let length = usize::from(u16::from_be_bytes([jpeg[at + 2], jpeg[at + 3]]));
        let scan = jpeg[at + 1] == 0xda;
        at += 2 + length;
        if scan {
            break;
        }
    }
    // Inside the pixels 0xff is followed by 0x00 or a restart; 0xd9 ends them.
    let end = jpeg[at..].windows(2).position(|two| two == [0xff, 0xd9]).unwrap();
    (markers, jpeg.len() - at - end - 2)
}

/// Whether two colours are the same to the eye: JPEG moves them a little.
pub fn close(a: Rgb<u8>, b: Rgb<u8>) -> bool {
    a.0.iter().zip(b.0).all(|(a, b)| a.abs_diff(b) < 25)
}
