// Values of the register as short text: weights, lengths, days, rough dates, times, sizes.
// It never rounds a single record, only sums that are long. Invariant: null is said as not known, never as 0.

import { MONTHS, SEASONS } from './rough.js';

/** @import {LogFields} from '../api/types.js' */

const THIN = '\u202f';

/**
 * @param {number} n
 * @param {string} one
 * @param {string} [many]
 */
export function count(n, one, many = `${one}s`) {
  return `${n} ${n === 1 ? one : many}`;
}

/** Shown units; the register keeps grams, millimetres and tenths of °C whatever is shown. */
let us = false;

/** @param {'metric' | 'us'} units */
export function showIn(units) {
  us = units === 'us';
}

export function isUs() {
  return us;
}

const OZ = 28.349523125;
const INCH = 25.4;
/** Litres of a cubic foot. */
const CUBIC_FOOT = 28.316846592;

/** What a weight is typed in. */
export const weightUnit = () => (us ? 'oz' : 'g');
/** What a log's weight is typed in. */
export const logWeightUnit = () => (us ? 'lb' : 'kg');
/** What a length is typed in. */
export const lengthUnit = () => (us ? 'in' : 'cm');
/** What a temperature is typed in. */
export const airUnit = () => (us ? '°F' : '°C');
/** What rain is typed in. */
export const rainUnit = () => (us ? 'in' : 'mm');
/** What wind is typed in. */
export const windUnit = () => (us ? 'mph' : 'km/h');

/** @param {number | null} n whole grams */
export function grams(n) {
  if (n === null) return 'not weighed';
  if (us) return n < 16 * OZ ? `${Number((n / OZ).toFixed(1))} oz` : `${(n / OZ / 16).toFixed(1)} lb`;
  if (n < 10000) return `${n} g`;
  return `${(n / 1000).toFixed(1)} kg`;
}

/**
 * A sum of weighings, said as a floor when some were not weighed.
 * @param {number} sum
 * @param {number} unweighed
 */
export function gramsAtLeast(sum, unweighed) {
  return unweighed > 0 ? `at least ${grams(sum)}` : grams(sum);
}

/** @param {number} n */
function grouped(n) {
  return n < 1000 ? String(n) : `${Math.floor(n / 1000)}${THIN}${String(n % 1000).padStart(3, '0')}`;
}

/** @param {number | null} mm */
export function cm(mm) {
  // Two decimals of an inch are finer than a millimetre: what is shown reads back as it was.
  return mm === null ? '' : String(us ? Number((mm / INCH).toFixed(2)) : mm / 10);
}

/**
 * A log's weight, as it is typed and shown: kg or lb with a decimal.
 * @param {number | null} g
 */
export function logWeight(g) {
  if (g === null) return 'not weighed';
  return `${logWeightNumber(g)} ${logWeightUnit()}`;
}

/** @param {number} g */
export function logWeightNumber(g) {
  return (us ? g / OZ / 16 : g / 1000).toFixed(1);
}

/** @param {number | null} dc tenths of °C */
export function air(dc) {
  return dc === null ? 'not known' : `${airNumber(dc)} ${airUnit()}`;
}

/** @param {number} dc tenths of °C */
export function airNumber(dc) {
  return String(us ? Number((dc * 0.18 + 32).toFixed(1)) : dc / 10);
}

/** @param {number | null} tenths of a millimetre */
export function rain(tenths) {
  if (tenths === null) return 'not known';
  return `${rainNumber(tenths)} ${rainUnit()}`;
}

/** @param {number} tenths of a millimetre */
export function rainNumber(tenths) {
  return String(us ? Number((tenths / 10 / INCH).toFixed(2)) : tenths / 10);
}

/** @param {number | null} tenths of a km/h */
export function wind(tenths) {
  if (tenths === null) return 'not known';
  return us ? `${Number((tenths / 16.09344).toFixed(1))} mph` : `${tenths / 10} km/h`;
}

/** @param {number | null} tenths of a litre */
export function litres(tenths) {
  if (tenths === null) return 'amount not said';
  return us ? `${Number((tenths / 37.85411784).toFixed(1))} gal` : `${tenths / 10} l`;
}

/** A log's volume, computed. @param {number} l litres */
export function woodVolume(l) {
  return us ? `${figure(l / CUBIC_FOOT)} cubic feet` : `${figure(l)} litres`;
}

/**
 * Thickness and length of a log in words, empty when nobody measured.
 * @param {Pick<LogFields, 'd_mm' | 'length_mm'>} log
 */
export function size(log) {
  const thick = log.d_mm.length ? `${log.d_mm.map(cm).join(' / ')} ${lengthUnit()} thick` : '';
  const long = log.length_mm === null ? '' : `${cm(log.length_mm)} ${lengthUnit()} long`;
  return [thick, long].filter(Boolean).join(', ');
}

/** @param {string} day `2026-11-25` */
function number(day) {
  const [y, m, d] = day.split('-').map(Number);
  return Math.round(Date.UTC(y, m - 1, d) / 86400000);
}

/**
 * @param {string} day
 * @param {string} today
 */
export function daysAgo(day, today) {
  return number(today) - number(day);
}

/**
 * @param {string} day
 * @param {number} n days to add, negative for before
 */
export function dayPlus(day, n) {
  return new Date((number(day) + n) * 86400000).toISOString().slice(0, 10);
}

/**
 * @param {string} day
 * @param {string | null} [today] leaves out this year's year and says today, yesterday
 */
export function dayName(day, today = null) {
  const [y, m, d] = day.split('-').map(Number);
  if (today) {
    const ago = daysAgo(day, today);
    if (ago === 0) return 'today';
    if (ago === 1) return 'yesterday';
    if (today.startsWith(`${y}-`)) return `${d} ${MONTHS[m - 1]}`;
  }
  return `${d} ${MONTHS[m - 1]} ${y}`;
}

/**
 * @param {string | null} edtf
 * @param {string} absent what null is said as
 */
export function rough(edtf, absent) {
  if (edtf === null) return absent;
  if (edtf === 'XXXX') return 'day not known';
  const [year, second, day] = edtf.split('-');
  if (day) return dayName(edtf);
  if (!second) return year;
  const season = /** @type {Record<string, string>} */ (SEASONS)[second];
  return `${season ?? MONTHS[Number(second) - 1]} ${year}`;
}

/**
 * The wall time written in an instant, as it was where it was written.
 * @param {string} instant RFC 3339
 */
export function clockTime(instant) {
  return instant.slice(11, 16);
}

/**
 * @param {string} instant
 * @param {string} today
 */
export function when(instant, today) {
  return `${dayName(instant.slice(0, 10), today)} at ${clockTime(instant)}`;
}

/** @param {number} n minutes */
export function minutes(n) {
  const hours = Math.floor(n / 60);
  const rest = n % 60;
  if (hours === 0) return count(n, 'minute');
  return rest === 0 ? count(hours, 'hour') : `${count(hours, 'hour')} ${count(rest, 'minute')}`;
}

/** @param {number} n */
export function bytes(n) {
  if (n < 1000) return `${n} bytes`;
  if (n < 1000000) return `${(n / 1000).toFixed(0)} kB`;
  if (n < 1000000000) return `${(n / 1000000).toFixed(1)} MB`;
  return `${(n / 1000000000).toFixed(1)} GB`;
}

/**
 * A computed figure with no more digits than it can carry.
 * @param {number} x
 */
export function figure(x) {
  if (x === 0) return '0';
  if (Math.abs(x) < 10) return String(Number(x.toPrecision(2)));
  return grouped(Math.round(x));
}

/** @param {string} text */
export function capital(text) {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/**
 * @param {readonly string[]} items
 * @param {string} [last]
 */
export function listed(items, last = 'and') {
  if (items.length < 2) return items.join('');
  return `${items.slice(0, -1).join(', ')} ${last} ${items[items.length - 1]}`;
}

/**
 * A value by the unit that its key says.
 * @param {string} name e.g. `water_dc`, `rest_days`
 * @param {unknown} value
 */
export function shown(name, value) {
  if (value === null || value === undefined) return 'not known';
  if (typeof value !== 'number') return String(value);
  if (name.endsWith('_g')) return grams(value);
  if (name.endsWith('_mm')) return `${cm(value)} ${lengthUnit()}`;
  if (name.endsWith('_dc')) return air(value);
  if (name.endsWith('_rain_tenths')) return rain(value);
  if (name.endsWith('_hours')) return count(value, 'hour');
  if (name.endsWith('months')) return count(value, 'month');
  if (name.endsWith('_k')) return `${us ? Number((value * 1.8).toFixed(1)) : value} ${airUnit()}`;
  if (name === 'litres') return us ? `${figure(value / CUBIC_FOOT)} ft³` : `${figure(value)} l`;
  if (name.endsWith('kg_m3')) return `${figure(value)} kg/m³`;
  if (name.endsWith('_days')) return count(value, 'day');
  if (name.endsWith('_pct')) return `${figure(value)} %`;
  return figure(value);
}
