// Typed text to a whole number of the register's unit: grams, millimetres, per cent, counts; and degrees.
// It never guesses: `1,5` and `1.5` both read, `1.500` grams does not. Invariant: empty is null, never 0.

import { isUs } from './format.js';

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
  const american = /^([\d.,]+)\s*(oz|lb|lbs)?$/.exec(typed);
  if (american && isUs()) return scaled(american[1], text, american[2]?.startsWith('lb') ? 453.59237 : 28.349523125, 'a weight', '12.5 oz or 1.5 lb');
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
  if (isUs()) return typedUnit(text, /\s*(in|")$/, 25.4, 'a length in inches', '5.5');
  const typed = tidy(text).toLowerCase().replace(/\s*cm$/, '').replace(SPACES, '');
  if (typed === '') return { ok: true, value: null };
  const value = decimal(typed, 1);
  if (value === null) return { ok: false, why: `“${text.trim()}” is not a length in centimetres. Write it such as 12.5, with one decimal at most.` };
  return { ok: true, value: Math.round(value * 10) };
}

/**
 * A log's weight in kg, or lb where that is shown; to grams.
 * @param {string} text
 * @returns {Reading}
 */
export function readLogWeight(text) {
  const typed = tidy(text).toLowerCase();
  if (/(^|\d|\s)(g|oz)$/.test(typed)) return readGrams(text);
  const pounds = /lbs?$/.test(typed) || (isUs() && !/kg$/.test(typed));
  return typedUnit(text, /\s*(kg|lbs?)$/, pounds ? 453.59237 : 1000, 'a weight', pounds ? '44.5 lb' : '20.5 kg');
}

/**
 * A temperature in °C or °F; to tenths of °C.
 * @param {string} text
 * @returns {Reading}
 */
export function readAir(text) {
  const typed = tidy(text).toUpperCase().replace('°', '').replace(SPACES, '');
  if (typed === '') return { ok: true, value: null };
  const parts = /^([+-]?)(\d{1,3}(?:[.,]\d)?)([CF]?)$/.exec(typed);
  if (!parts) return { ok: false, why: `“${text.trim()}” is not a temperature. Write it such as ${isUs() ? '68' : '-2.5'}.` };
  const size = Number(parts[2].replace(',', '.')) * (parts[1] === '-' ? -1 : 1);
  const fahrenheit = parts[3] === 'F' || (isUs() && parts[3] !== 'C');
  return { ok: true, value: Math.round(fahrenheit ? (size - 32) / 0.18 : size * 10) + 0 };
}

/**
 * Rain in mm or inches; to tenths of a millimetre.
 * @param {string} text
 * @returns {Reading}
 */
export function readRain(text) {
  return isUs() ? typedUnit(text, /\s*(in|")$/, 254, 'rain in inches', '0.35') : typedUnit(text, /\s*mm$/, 10, 'rain in millimetres', '12.5');
}

/**
 * Wind in km/h or mph; to tenths of a km/h.
 * @param {string} text
 * @returns {Reading}
 */
export function readWind(text) {
  return isUs() ? typedUnit(text, /\s*mph$/, 16.09344, 'wind in miles an hour', '12') : typedUnit(text, /\s*km\/h$/, 10, 'wind in km/h', '15');
}

/**
 * Litres or gallons; to tenths of a litre.
 * @param {string} text
 * @returns {Reading}
 */
export function readLitres(text) {
  return isUs() ? typedUnit(text, /\s*gal$/, 37.85411784, 'an amount in gallons', '5') : typedUnit(text, /\s*l$/, 10, 'an amount in litres', '20');
}

/**
 * @param {string} text
 * @param {RegExp} unit
 * @param {number} factor
 * @param {string} what
 * @param {string} such
 * @returns {Reading}
 */
function typedUnit(text, unit, factor, what, such) {
  const typed = tidy(text).toLowerCase().replace(unit, '').replace(SPACES, '');
  if (typed === '') return { ok: true, value: null };
  return scaled(typed, text, factor, what, such);
}

/**
 * @param {string} number
 * @param {string} text
 * @param {number} factor
 * @param {string} what
 * @param {string} such
 * @returns {Reading}
 */
function scaled(number, text, factor, what, such) {
  const value = decimal(number, 3);
  if (value === null) return { ok: false, why: `“${text.trim()}” is not ${what}. Write it such as ${such}.` };
  return { ok: true, value: Math.round(value * factor) };
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
