//! A screw as typed: thread, class, how it goes in, head.

use super::typed::{Typed, one_of};
use refettle_facts::fasteners::bearing::Head;
use refettle_facts::fasteners::friction::Friction;
use refettle_facts::fasteners::strength::{self, Strength};
use refettle_facts::fasteners::thread::{self, Thread};

const HEADS: [(&str, Head); 3] = [
    ("hex", Head::Hex),
    ("flange", Head::Flange),
    ("socket", Head::Socket),
];

/// What is known of a screw.
pub(super) struct Screw {
    pub(super) thread: Thread,
    pub(super) strength: Strength,
    pub(super) friction: Friction,
    /// A hexagon where nothing was said.
    pub(super) head: Head,
}

impl Screw {
    /// Reads all four; `None` when one of them is wrong.
    pub(super) fn read(
        typed: &mut Typed,
        thread: &str,
        class: &str,
        friction: &str,
        head: Option<&str>,
    ) -> Option<Screw> {
        let thread = typed.read("thread", thread, thread::named);
        // A class is one of a size: without the thread it cannot be read.
        let strength =
            thread.and_then(|thread| typed.read("class", class, |text| strength::named(text, &thread)));
        let friction = typed.read("friction", friction, Friction::read);
        let head = typed.read("head", head.unwrap_or("hex"), |text| one_of(text, &HEADS));
        Some(Screw {
            thread: thread?,
            strength: strength?,
            friction: friction?,
            head: head?,
        })
    }
}
