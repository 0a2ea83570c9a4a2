// Which change on which topic makes a screen load again; topics are the kinds of things an act changes.
// It never loads anything itself. Invariant: when in doubt a screen loads again, so nothing stale stays on show.

const LOG = ['log', 'strain', 'spot'];
const ENTRIES = ['entry', 'look', 'photo', 'measure', 'picking', 'check', 'ending', 'move', 'condition', 'tending', 'sighting',
  'forecast', 'flush', 'basket', 'soak', 'weighing', 'watering'];

/** What a log is, and everything in its record. */
export const LOGS = [...LOG, ...ENTRIES];
export const SPOTS = ['spot', 'log'];
export const SETTINGS = ['setting'];
/** Pickings that may be one, and what was answered. */
export const TWINS = [...LOGS, 'apart'];
/** Weather by day. */
export const WEATHER = ['weather', 'setting'];
/** Any act at all. */
export const ALL = ['*'];

const KNOWN = new Set([...TWINS, ...SPOTS, ...SETTINGS, ...WEATHER, 'round', 'put_off']);

/**
 * @param {readonly string[]} shown the topics of the screen on show; none: it never reloads by itself
 * @param {readonly string[]} changed what an act reported
 */
export function touches(shown, changed) {
  if (shown.length === 0) return false;
  if (changed.length === 0 || shown.includes('*')) return true;
  return changed.some((topic) => shown.includes(topic) || !KNOWN.has(topic));
}
