// Rough dates: between the typed parts (a day, a month, a season, a year, not known) and EDTF text (ISO 8601-2).
// It never makes a date sharper than it was typed. Invariant: `fromParts(toParts(x))` gives `x` back.

/** @typedef {'day' | 'month' | 'season' | 'year' | 'unknown' | 'none'} RoughKind */
/** @typedef {{kind: RoughKind, day: string, month: string, season: string, year: string}} RoughParts */
/** @typedef {{ok: true, value: string | null} | {ok: false, why: string, part: 'day' | 'month' | 'season' | 'year'}} RoughReading */

export const SEASONS = /** @type {const} */ ({ 21: 'spring', 22: 'summer', 23: 'autumn', 24: 'winter' });
export const MONTHS = ['January', 'February', 'March', 'April', 'May', 'June', 'July', 'August', 'September', 'October', 'November', 'December'];

/**
 * @param {string | null} edtf
 * @param {RoughKind} absent what null stands for: `none` (not laid yet) or `unknown`
 * @returns {RoughParts}
 */
export function toParts(edtf, absent) {
  const parts = { kind: absent, day: '', month: '', season: '', year: '' };
  if (edtf === null) return parts;
  if (edtf === 'XXXX') return { ...parts, kind: 'unknown' };
  const [year, second = '', day = ''] = edtf.split('-');
  if (day) return { ...parts, kind: 'day', year, month: String(Number(second)), day: String(Number(day)) };
  if (second && Number(second) > 12) return { ...parts, kind: 'season', year, season: second };
  if (second) return { ...parts, kind: 'month', year, month: String(Number(second)) };
  return { ...parts, kind: 'year', year };
}

/**
 * @param {RoughParts} parts
 * @param {string | null} [unknown] what "not known" is written as
 * @returns {RoughReading}
 */
export function fromParts(parts, unknown = 'XXXX') {
  if (parts.kind === 'none') return { ok: true, value: null };
  if (parts.kind === 'unknown') return { ok: true, value: unknown };
  const year = parts.year.trim();
  if (!/^(19|20)\d\d$/.test(year)) return { ok: false, why: 'Write the year with four digits, such as 2024.', part: 'year' };
  if (parts.kind === 'year') return { ok: true, value: year };
  if (parts.kind === 'season') {
    if (!(parts.season in SEASONS)) return { ok: false, why: 'Choose the season.', part: 'season' };
    return { ok: true, value: `${year}-${parts.season}` };
  }
  const month = Number(parts.month);
  if (!(month >= 1 && month <= 12)) return { ok: false, why: 'Choose the month.', part: 'month' };
  const yearMonth = `${year}-${String(month).padStart(2, '0')}`;
  if (parts.kind === 'month') return { ok: true, value: yearMonth };
  const day = /^\d{1,2}$/.test(parts.day.trim()) ? Number(parts.day) : 0;
  const last = daysIn(Number(year), month);
  if (day < 1 || day > last) return { ok: false, why: `${MONTHS[month - 1]} ${year} has days 1 to ${last}.`, part: 'day' };
  return { ok: true, value: `${yearMonth}-${String(day).padStart(2, '0')}` };
}

/** A month and day of every year, in two parts. @typedef {{day: string, month: string}} YearDay */

/** @param {string | null} text such as 03-01; null: no such day is set @returns {YearDay} */
export function toYearDay(text) {
  const [month, day] = text ? text.split('-') : ['', ''];
  return { day: day && String(Number(day)), month: month && String(Number(month)) };
}

/**
 * 29 February is none: not every year has it.
 * @param {YearDay} parts
 * @returns {RoughReading} null when no month is chosen
 */
export function fromYearDay({ day, month }) {
  if (!month) return { ok: true, value: null };
  const read = fromParts({ kind: 'day', day, month, season: '', year: '2023' });
  if (read.ok && read.value) return { ok: true, value: read.value.slice(5) };
  return { ok: false, why: `${MONTHS[Number(month) - 1]} has days 1 to ${daysIn(2023, Number(month))}.`, part: 'day' };
}

/** @param {string} text such as 03-01 */
export const yearDayName = (text) => `${toYearDay(text).day} ${MONTHS[Number(toYearDay(text).month) - 1]}`;

/**
 * @param {number} year
 * @param {number} month 1 to 12
 */
export function daysIn(year, month) {
  return new Date(Date.UTC(year, month, 0)).getUTCDate();
}
