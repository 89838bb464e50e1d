//! Keeping and giving.

use crate::sample::{jpeg, sample};
use refettle_photos::{Album, FOLDER, PhotoError, PhotoId, View, prepare};

#[test]
fn a_kept_photo_is_given_as_it_is_and_others_are_unknown() {
    let dir = tempfile::tempdir().unwrap();
    let album = Album::of(dir.path());
    assert!(album.all().unwrap().is_empty());
    let photo = prepare(&jpeg(&sample(500, 400))).unwrap();
    for _ in 0..2 {
        album.keep(&photo).unwrap();
        assert_eq!(album.all().unwrap(), std::slice::from_ref(&photo.id));
    }
    assert_eq!(album.read(&photo.id, View::Whole).unwrap(), photo.whole);
    assert_eq!(album.read(&photo.id, View::Small).unwrap(), photo.small);
    let other = PhotoId::of(b"other");
    assert!(matches!(
        album.read(&other, View::Whole),
        Err(PhotoError::Unknown { .. })
    ));
    album.erase(&photo.id).unwrap();
    album.erase(&photo.id).unwrap();
    assert!(matches!(
        album.read(&photo.id, View::Small),
        Err(PhotoError::Unknown { .. })
    ));
    assert_eq!(std::fs::read_dir(dir.path().join(FOLDER)).unwrap().count(), 0);
}

#[test]
fn a_spoiled_file_is_told_and_an_unfinished_one_is_none() {
    let dir = tempfile::tempdir().unwrap();
    let album = Album::of(dir.path());
    let photo = prepare(&jpeg(&sample(50, 40))).unwrap();
    album.keep(&photo).unwrap();
    let path = dir.path().join(FOLDER).join(format!("{}.jpg", photo.id));
    let mut bytes = photo.whole.clone();
    bytes[30] ^= 1;
    std::fs::write(&path, bytes).unwrap();
    let error = album.read(&photo.id, View::Whole).unwrap_err();
    assert!(error.to_string().contains("restore it from a backup"), "{error}");
    std::fs::write(dir.path().join(FOLDER).join("1-1.unfinished"), b"x").unwrap();
    std::fs::write(dir.path().join(FOLDER).join("holiday.jpg"), b"x").unwrap();
    assert_eq!(album.all().unwrap(), [photo.id]);
}

#[test]
fn a_photo_is_taken_in_only_under_its_own_name() {
    let (from, to) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let photo = prepare(&jpeg(&sample(500, 400))).unwrap();
    let album = Album::of(to.path());
    album.take_in(&photo.id, &photo.whole, from.path()).unwrap();
    assert_eq!(album.read(&photo.id, View::Whole).unwrap(), photo.whole);
    assert!(album.read(&photo.id, View::Small).unwrap().len() < photo.whole.len());
    let false_name = album.take_in(&PhotoId::of(b"x"), &photo.whole, from.path());
    assert!(matches!(false_name, Err(PhotoError::Damaged { .. })));
    let no_picture = album.take_in(&PhotoId::of(b"no picture"), b"no picture", from.path());
    assert!(matches!(no_picture, Err(PhotoError::OtherKind { .. })));
    assert_eq!(album.all().unwrap(), [photo.id]);
}

#[test]
fn only_sixty_four_small_hexadecimal_digits_are_an_id() {
    let good = "ab".repeat(32);
    assert_eq!(PhotoId::new(&good).unwrap().as_str(), good);
    for bad in [
        "",
        "../../etc/passwd",
        &good[1..],
        &good.to_uppercase(),
        &format!("{good}0"),
        &good.replace('a', "/"),
        &good.replace("ab", "é"),
    ] {
        assert!(PhotoId::new(bad).is_err(), "{bad}");
    }
}
