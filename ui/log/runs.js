// Which entries of a record are shown as one line.
// It never leaves an entry out. Invariant: joined together, the runs are the record in its order.

/** @import {Entry} from '../api/types.js' */

/**
 * Night rounds one after the other that found nothing belong together; everything else stands alone.
 * @param {Entry[]} entries
 * @returns {Entry[][]}
 */
export function runs(entries) {
  /** @type {Entry[][]} */
  const found = [];
  for (const entry of entries) {
    const last = found.at(-1);
    if (last && isQuiet(entry) && isQuiet(last[0])) last.push(entry);
    else found.push([entry]);
  }
  return found;
}

/** @param {Entry} entry */
function isQuiet({ what, note }) {
  return what.kind === 'check' && what.how !== 'skipped' && what.slugs === 0 && what.damage === 'none' && note === '';
}
