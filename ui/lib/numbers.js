// Typed text to a whole number of the register's unit: grams, millimetres, per cent, counts; and degrees.
// It never guesses: `1,5` and `1.5` both read, `1.500` grams does not. Invariant: empty is null, never 0.

/** @typedef {{ok: true, value: number | null} | {ok: false, why: string}} Reading */

const SPACES = /[\s\u00a0\u2009\u202f']/g;

/** @param {string} text */
function tidy(text) {
  return text.normalize('NFKC').replace(/\u2212/g, '-').trim();
}

/**
 * A whole count, such as slugs or caps.
 * @param {string} text
 * @param {string} what said in the refusal, such as "caps"
 * @returns {Reading}
 */
export function readCount(text, what) {
  const typed = tidy(text).replace(SPACES, '');
  if (typed === '') return { ok: true, value: null };
  if (/^\d{1,9}$/.test(typed)) return { ok: true, value: Number(typed) };
  return { ok: false, why: `“${text.trim()}” is not a whole number of ${what}. Write digits only, such as 12.` };
}

/**
 * Grams; a plain number is grams, `1,5 kg` is 1500.
 * @param {string} text
 * @returns {Reading}
 */
export function readGrams(text) {
  const typed = tidy(text).toLowerCase();
  if (typed === '') return { ok: true, value: null };
  const parts = /^([\d.,\s\u00a0\u2009\u202f']+?)\s*(g|kg)?$/.exec(typed);
  if (!parts) return { ok: false, why: `“${text.trim()}” is not a weight. Write grams, such as 340, or 1.5 kg.` };
  const number = parts[1].replace(SPACES, '');
  if (parts[2] === 'kg') return kilograms(number, text);
  if (/^\d{1,9}$/.test(number)) return { ok: true, value: Number(number) };
  if (/^\d{1,3}[.,]\d{3}$/.test(number)) {
    return { ok: false, why: `“${text.trim()}” can be read two ways. Write ${number.replace(/[.,]/, '')} for grams, or ${Number(number.replace(',', '.'))} kg for kilograms.` };
  }
  return { ok: false, why: `“${text.trim()}” is not whole grams. Write grams such as 340, or put kg behind it: 1.5 kg.` };
}

/**
 * @param {string} number
 * @param {string} text
 * @returns {Reading}
 */
function kilograms(number, text) {
  const value = decimal(number, 3);
  if (value === null) return { ok: false, why: `“${text.trim()}” is not a weight. Write it such as 1.5 kg.` };
  return { ok: true, value: Math.round(value * 1000) };
}

/**
 * Centimetres as typed, to millimetres: `12,5` is 125.
 * @param {string} text
 * @returns {Reading}
 */
export function readCm(text) {
  const typed = tidy(text).toLowerCase().replace(/\s*cm$/, '').replace(SPACES, '');
  if (typed === '') return { ok: true, value: null };
  const value = decimal(typed, 1);
  if (value === null) return { ok: false, why: `“${text.trim()}” is not a length in centimetres. Write it such as 12.5, with one decimal at most.` };
  return { ok: true, value: Math.round(value * 10) };
}

/**
 * Degrees of latitude or longitude, with a sign or a letter: `48,1`, `-77.03`, `77.03 W`.
 * @param {string} text
 * @param {'lat' | 'lon'} which
 * @returns {Reading}
 */
export function readDegrees(text, which) {
  const typed = tidy(text).toUpperCase().replace(/°/g, '').replace(SPACES, '');
  if (typed === '') return { ok: true, value: null };
  const [plus, minus, most] = which === 'lat' ? ['N', 'S', 90] : ['E', 'W', 180];
  const parts = new RegExp(`^([+-]?)(\\d{1,3}(?:[.,]\\d{1,8})?)([${plus}${minus}]?)$`).exec(typed);
  const what = which === 'lat' ? 'latitude' : 'longitude';
  if (!parts || (parts[1] && parts[3])) {
    return { ok: false, why: `“${text.trim()}” is not a ${what}. Write degrees with decimals, such as ${which === 'lat' ? '48.14 or 33.9 S' : '11.58 or 77.03 W'}.` };
  }
  const size = Number(parts[2].replace(',', '.'));
  if (size > most) return { ok: false, why: `A ${what} lies between ${-most} and ${most} degrees.` };
  return { ok: true, value: parts[1] === '-' || parts[3] === minus ? 0 - size : size };
}

/**
 * @param {string} typed digits with one `.` or `,` at most
 * @param {number} places decimals allowed
 * @returns {number | null}
 */
function decimal(typed, places) {
  if (!new RegExp(`^\\d{1,6}(?:[.,]\\d{1,${places}})?$`).test(typed)) return null;
  return Number(typed.replace(',', '.'));
}
