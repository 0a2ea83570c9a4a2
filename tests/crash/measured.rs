//! Killed while a cap is measured: its width is kept whole, with its range and its photo, or not at all.
//! Never a width that was acknowledged and is gone, nor one that two lines kept.
//! Invariant: the program that is killed is the real one; every call that reaches the disk is one case.

use super::killed::{Call, calls, killed};
use super::script::Script;
use super::witness::Witness;
use super::{each, room, share, spread, told};

#[test]
fn a_width_is_kept_whole_or_not_at_all_when_measuring_is_killed() {
    let place = room();
    let file = place.path().join("script");
    let script = Script::of_widths(2);
    script.write(&file);
    let Some(all) = calls(&file, &place.path().join("count")) else { return };
    let witness = Witness::of(&script);
    let cases: Vec<&Call> =
        spread(all.len(), share(16, usize::MAX)).into_iter().map(|n| &all[n - 1]).collect();
    let found = each(&cases, |call| {
        let folder = room();
        let run = killed(call, &file, folder.path()).map_err(|e| format!("{call:?}: {e}"))?;
        if !run.refused.is_empty() {
            return Err(format!("{call:?}: refused {:?}", run.refused));
        }
        witness.stands(folder.path(), run.acked.len()).map_err(|e| format!("{call:?}: {e}"))
    });
    told("killed while a cap is measured", cases.len(), &found);
}
