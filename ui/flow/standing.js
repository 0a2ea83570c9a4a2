// Whether the yard can be written, and which device this is: asked once and after whatever may have changed it.
// It never decides either. Invariant: what it knows is the last thing the register said.

import { call } from '../api/call.js';

/** @import {CareView, Closed} from '../api/types.js' */

/** @type {{closed: Closed | null, device: string}} */
const standing = { closed: null, device: '' };

/** Why nothing can be written; null when it can. */
export const closed = () => standing.closed;
/** The end of this device's id. */
export const device = () => standing.device;

/** @param {Pick<CareView, 'reading_only' | 'device'>} care */
export function stands(care) {
  standing.closed = care.reading_only;
  standing.device = care.device;
}

/** @returns {Promise<boolean>} whether it has changed */
export async function look() {
  const before = standing.closed;
  try {
    stands(await call('care_show', {}));
  } catch {
    // The screen on show says what is wrong with a register that cannot tell even this.
    return false;
  }
  return before !== standing.closed;
}
