//! The last entry, as another connection sees it.

use crate::sample::{bike, bring_in, noon, nth, with_a_bike};
use refettle_memory::Memory;

#[test]
fn the_last_entry_is_seen_by_another_connection_as_soon_as_it_is_acknowledged() {
    let (dir, mut memory, first) = with_a_bike();
    let watcher = Memory::open(dir.path()).unwrap();
    assert_eq!(watcher.last_entry(&bike("b1")).unwrap(), Some(first));
    for n in 0..5 {
        let id = memory.append(&bike("b1"), noon(), None, &nth(n)).unwrap();
        assert_eq!(watcher.last_entry(&bike("b1")).unwrap(), Some(id));
    }
    let of_one = watcher.last_entry(&bike("b1")).unwrap();
    bring_in(&mut memory, "b2");
    assert_eq!(watcher.last_entry(&bike("b1")).unwrap(), of_one);
    assert_eq!(watcher.last_entry(&bike("b3")).unwrap(), None);
}
