// Walking the round with pencil and paper: which card is next, which logs carry these digits, which acts belong to it.
// It never writes. Invariant: the next card is one nobody has seen, or there is none.

/** @import {ActRow, LogRow, RoundView} from '../api/types.js' */

/** Most logs that the keypad offers: what fits above it. */
const MOST = 18;

/**
 * The next stop nobody has seen, going on from here and then from the start.
 * @param {RoundView} shown
 * @param {number} at
 * @returns {number | null}
 */
export function after(shown, at) {
  const ahead = shown.stops.findIndex((stop, i) => i > at && stop.check === null);
  if (ahead >= 0) return ahead;
  const behind = shown.stops.findIndex((stop) => stop.check === null);
  return behind >= 0 ? behind : null;
}

/**
 * Whether an act belongs to this round's walking.
 * @param {ActRow} act
 * @param {string} round
 */
export function belongs(act, round) {
  return (act.name === 'round_check' || act.name === 'round_spot_clean') && act.said.round === round;
}

/**
 * Stops whose tag has these digits: the same number first, then those that begin with them, then the rest.
 * @template {{log: LogRow}} S
 * @param {readonly S[]} stops
 * @param {string} digits
 * @returns {{stop: S, at: number}[]}
 */
export function found(stops, digits) {
  if (digits === '') return [];
  const rank = (/** @type {S} */ { log }) => {
    const own = log.tag.replace(/\D/g, '');
    if (own === digits || own.replace(/^0+/, '') === digits) return 0;
    if (own.startsWith(digits)) return 1;
    return own.includes(digits) ? 2 : 3;
  };
  return stops.map((stop, at) => ({ stop, at, rank: rank(stop) })).filter((hit) => hit.rank < 3).sort((a, b) => a.rank - b.rank || a.at - b.at).slice(0, MOST);
}
