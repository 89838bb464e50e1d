//! What takes the planner seconds is worked out beside the desk, so that no other page waits for it, and kept: the last
//! few answers, each under what it was asked with.

use std::collections::VecDeque;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;
use tokio::sync::Notify;
use tokio::time::{Instant, timeout_at};

/// Answers kept of each kind. Judgement, no source.
const KEPT: usize = 6;
/// Answers in the making at a time; more wait, so that taps cannot occupy the machine. Judgement, no source.
const MAKING: usize = 3;
/// How long a request waits before a page says that it is being worked out. Judgement, no source.
const PATIENCE: Duration = Duration::from_millis(2500);

/// Answers of one kind, by what they were asked with.
pub(crate) struct Judged<K, V> {
    slots: Mutex<VecDeque<Slot<K, V>>>,
    /// One is worked out at a time.
    bench: Mutex<()>,
    made: Notify,
}

struct Slot<K, V> {
    key: K,
    value: Stage<V>,
}

enum Stage<V> {
    Making,
    Made(Arc<V>),
    /// The work ended in a fault of ours.
    Failed,
}

/// What there is of an answer.
pub(crate) enum Answer<V> {
    /// Worked out.
    Made(Arc<V>),
    /// Being worked out: ask again.
    Soon,
    /// A fault of ours, told once.
    Failed,
}

impl<K, V> Default for Judged<K, V> {
    fn default() -> Judged<K, V> {
        Judged {
            slots: Mutex::new(VecDeque::new()),
            bench: Mutex::new(()),
            made: Notify::new(),
        }
    }
}

impl<K, V> Judged<K, V>
where
    K: PartialEq + Clone + Send + Sync + 'static,
    V: Send + Sync + 'static,
{
    /// The answer to a question, begun if nobody has asked it yet.
    pub(crate) async fn answer<F>(self: &Arc<Self>, key: K, work: F) -> Answer<V>
    where
        F: FnOnce() -> V + Send + 'static,
    {
        let until = Instant::now() + PATIENCE;
        self.begin(&key, work);
        loop {
            let made = self.made.notified();
            match self.look(&key) {
                Some(answer) => return answer,
                None if timeout_at(until, made).await.is_err() => return Answer::Soon,
                None => {}
            }
        }
    }

    fn begin<F>(self: &Arc<Self>, key: &K, work: F)
    where
        F: FnOnce() -> V + Send + 'static,
    {
        {
            let mut slots = self.slots.lock().unwrap_or_else(PoisonError::into_inner);
            let making = slots
                .iter()
                .filter(|slot| matches!(slot.value, Stage::Making))
                .count();
            if making >= MAKING || slots.iter().any(|slot| slot.key == *key) {
                return;
            }
            slots.push_front(Slot {
                key: key.clone(),
                value: Stage::Making,
            });
            while slots.len() > KEPT {
                // The oldest that is not in the making; at most a few are.
                match slots
                    .iter()
                    .rposition(|slot| !matches!(slot.value, Stage::Making))
                {
                    Some(place) => drop(slots.remove(place)),
                    None => break,
                }
            }
        }
        let (here, key) = (self.clone(), key.clone());
        tokio::task::spawn_blocking(move || {
            let made = {
                let _one = here.bench.lock().unwrap_or_else(PoisonError::into_inner);
                catch_unwind(AssertUnwindSafe(work))
            };
            let mut slots = here.slots.lock().unwrap_or_else(PoisonError::into_inner);
            if let Some(slot) = slots.iter_mut().find(|slot| slot.key == key) {
                slot.value = made.map_or(Stage::Failed, |value| Stage::Made(Arc::new(value)));
            }
            drop(slots);
            here.made.notify_waiters();
        });
    }

    /// What there is; none while it is in the making or waits to be begun.
    fn look(&self, key: &K) -> Option<Answer<V>> {
        let mut slots = self.slots.lock().unwrap_or_else(PoisonError::into_inner);
        let place = slots.iter().position(|slot| slot.key == *key)?;
        match &slots.get(place)?.value {
            Stage::Making => None,
            Stage::Made(value) => Some(Answer::Made(value.clone())),
            Stage::Failed => {
                // Asked again, it is tried again.
                slots.remove(place);
                Some(Answer::Failed)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::sync::mpsc;

    #[tokio::test]
    async fn what_was_asked_once_is_not_worked_out_again() {
        let judged: Arc<Judged<u8, u8>> = Arc::default();
        static TIMES: AtomicUsize = AtomicUsize::new(0);
        for _ in 0..3 {
            let answer = judged
                .answer(7, || {
                    TIMES.fetch_add(1, Ordering::SeqCst);
                    49
                })
                .await;
            assert!(matches!(answer, Answer::Made(value) if *value == 49));
        }
        assert_eq!(TIMES.load(Ordering::SeqCst), 1);
    }

    #[tokio::test]
    async fn what_takes_longer_is_told_as_soon_and_there_later() {
        let judged: Arc<Judged<u8, u8>> = Arc::default();
        let (go, wait) = mpsc::channel::<()>();
        let slow = judged.answer(1, move || {
            let _ = wait.recv();
            1
        });
        assert!(matches!(slow.await, Answer::Soon));
        go.send(()).unwrap();
        let again = judged.answer(1, || 2).await;
        assert!(
            matches!(again, Answer::Made(value) if *value == 1),
            "the first work counts"
        );
    }

    #[tokio::test]
    async fn a_fault_is_told_once_and_tried_again() {
        let judged: Arc<Judged<u8, u8>> = Arc::default();
        assert!(matches!(
            judged.answer(1, || panic!("meant to be")).await,
            Answer::Failed
        ));
        assert!(matches!(judged.answer(1, || 5).await, Answer::Made(value) if *value == 5));
    }

    #[tokio::test]
    async fn only_the_last_few_are_kept() {
        let judged: Arc<Judged<usize, usize>> = Arc::default();
        for n in 0..3 * KEPT {
            assert!(matches!(judged.answer(n, move || n).await, Answer::Made(_)));
        }
        assert!(judged.slots.lock().unwrap().len() <= KEPT);
    }
}
