//! Two works at the same time, where the system lets one begin a thread.
//! Never more than two, and never a job: `book::jobs` has those.
//! Invariant: without a thread both are done, one after the other.

use crate::error::{Error, Result};
use std::sync::Mutex;
use std::thread;

/// Does `there` in a thread beside `here`. A system short of memory gives no thread: then `there` comes after.
///
/// # Errors
/// `Bug` when `there` panicked.
pub fn beside<A: Send, B>(there: impl FnOnce() -> A + Send, here: impl FnOnce() -> B) -> Result<(A, B)> {
    begun(thread::Builder::new(), there, here)
}

fn begun<A: Send, B>(
    thread: thread::Builder,
    there: impl FnOnce() -> A + Send,
    here: impl FnOnce() -> B,
) -> Result<(A, B)> {
    let waiting = Mutex::new(Some(there));
    let work = || {
        let there = waiting.lock().ok()?.take()?;
        Some(there())
    };
    thread::scope(|scope| {
        let begun = thread.spawn_scoped(scope, work);
        let here = here();
        let there = begun.map_or_else(|_| work(), |thread| thread.join().ok().flatten());
        Ok((there.ok_or_else(|| Error::Bug("a thread stopped".into()))?, here))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A program held to 28 MB of memory could not begin one, and panicked while it kept a photo.
    #[test]
    fn without_a_thread_both_are_done_all_the_same() {
        // No system gives a thread so large a stack.
        let none = thread::Builder::new().stack_size(1 << 60);
        assert!(
            matches!(begun(none, || thread::current().id(), || 2), Ok((id, 2)) if id == thread::current().id())
        );
        assert!(
            matches!(beside(|| thread::current().id(), || 2), Ok((id, 2)) if id != thread::current().id())
        );
    }
}
