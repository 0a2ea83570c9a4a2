// The season's report in words and shapes: the same parts go on the page and into the PDF.
// It never computes but adds a heading. Invariant: what is printed is what the screen shows.

import { capital, count, dayName, figure, grams, gramsAtLeast } from '../lib/format.js';
import { MUSHROOM, STRAIN_CLASS } from '../lib/words.js';
import { groupName, measured, withUnit } from '../lib/words-review.js';
import { answer, tiedWords } from '../review/answer.js';

/** @import {HeapOf, PdfPart, Question, SeasonBest, SeasonLog, SeasonView, YearOf} from '../api/types.js' */

export const MONTH_LETTERS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** @param {SeasonBest} best @returns {Question} */
export function question(best) {
  return { by: 'wood', measure: 'log_year', mushroom: best.mushroom, from: null, to: null, spot: null };
}

/** A season's name: its year, or both where it runs over the new year. @param {Pick<YearOf, 'year' | 'last'>} season */
export function seasonName({ year, last }) {
  return last.startsWith(String(year)) ? String(year) : `${year}/${last.slice(2, 4)}`;
}

/** The word for a month of the season. @param {HeapOf} heap */
export function monthName(heap) {
  return MONTH_LETTERS[Number(heap.of.slice(5)) - 1];
}

/** The year in a few sentences. @param {SeasonView} view @returns {string[]} */
export function sentences({ season: s, forecasts }) {
  const year = s.years.find((y) => y.of === String(s.year));
  const whole = s.first.slice(5) === '01-01';
  const soaked = s.soaks ? `${count(s.soaks, 'soak')}, ${s.soaks_answered} of them answered within four weeks${s.answer_days === null ? '' : `, after ${figure(s.answer_days)} days on the mean`}.` : '';
  return [
    year ? `${capital(gramsAtLeast(year.grams, year.unweighed))} in ${count(year.pickings, 'picking')}${year.unweighed ? `, ${year.unweighed} of them not weighed` : ''}; ${count(s.flushes, 'flush', 'flushes')} on ${count(s.logs, 'log')}${s.logs ? `, ${figure(s.flushes / s.logs)} a log` : ''}.` : 'Nothing was picked.',
    soaked,
    forecastWords(forecasts),
    whole ? '' : `From ${dayName(s.first)} to ${dayName(s.last)}.`,
  ].filter(Boolean);
}

/** How forecasts came out. @param {SeasonView['forecasts']} f */
export function forecastWords(f) {
  if (f.n === 0 || f.hit_pct === null || f.miss_days === null) return '';
  const miss = f.miss_days < 0.1 ? 'to the day on the mean' : `${figure(f.miss_days)} days off on the mean`;
  return `${f.hits} of ${count(f.n, 'forecast')} came true (${Math.round(f.hit_pct)}\u00a0%), ${miss}${f.few ? '; too few to say much' : ''}.`;
}

/**
 * A log of the report: its tag, and what it is and gave, a line each.
 * @param {SeasonLog} shown
 * @returns {string[]}
 */
export function logWords({ log, grams: g, unweighed }) {
  const wood = log.wood_name ?? 'wood not known';
  const gave = g > 0 ? capital(gramsAtLeast(g, unweighed)) : unweighed > 0 ? `${count(unweighed, 'picking')} not weighed` : 'Not picked yet';
  return [`Log ${log.tag}`, `${capital(wood)}, ${MUSHROOM[log.mushroom]}`, gave];
}

/** What was lost. @param {SeasonView} view @returns {string[]} */
export function losses({ season: s }) {
  return [
    s.damaged_pct === null ? 'No picking was judged for damage.' : `${figure(s.damaged_pct)} % of the weight that was judged was damaged.`,
    s.ended ? `${count(s.ended, 'log')} ended${s.lost ? `, ${s.lost} of them lost` : ''}.` : 'No log ended.',
  ];
}

/** What to lay next, going by the yard's own record. @param {SeasonView} view @returns {string[]} */
export function layNext(view) {
  return view.best.map((best) => {
    const { answer: a } = best.woods;
    const of = MUSHROOM[best.mushroom];
    if (a.kind === 'best') return `For ${of}: ${a.name}.`;
    if (a.kind === 'close') return `For ${of}: ${a.name}, or ${a.close[0]} as well${a.need ? `; ${count(a.need, 'more log')} of each would likely tell` : ''}.`;
    return `For ${of}: your own logs cannot tell yet; lay three or more of each wood.`;
  });
}

/** @param {HeapOf} heap */
export function className(heap) {
  return /** @type {Record<string, string>} */ ({ ...STRAIN_CLASS, ...MUSHROOM, shiitake: 'class not known' })[heap.of] ?? heap.of;
}

/** The logs that are shown, with the words above them. @param {SeasonView} view @returns {Array<[string, SeasonLog[]]>} */
export function pictured(view) {
  /** @type {Array<[string, SeasonLog[]]>} */
  const all = [['Logs that gave most', view.most], ['Out now', view.out]];
  return all.filter(([, logs]) => logs.length > 0);
}

/** The whole report for the PDF. @param {SeasonView} view @returns {PdfPart[]} */
export function parts(view) {
  const { season: s } = view;
  /** @type {PdfPart[]} */
  const out = [{ part: 'heading', words: `The season ${seasonName(s)}${view.place ? `, ${view.place}` : ''}`, first: true }];
  const say = (/** @type {string[]} */ all) => all.forEach((words) => out.push({ part: 'words', words }));
  say(sentences(view));
  out.push({ part: 'heading', words: 'What did best', first: false });
  for (const best of view.best) {
    say([answer(question(best), best.woods.answer), ...best.woods.tied.slice(0, 2).map((t) => tiedWords(question(best), t))]);
    const rows = best.woods.rows.filter((row) => row.tell && row.mean !== null && row.low !== null && row.high !== null);
    const end = Math.max(1, ...rows.map((row) => row.high ?? 0));
    rows.forEach((row) => out.push({ part: 'interval', name: `${capital(groupName('wood', row.name))} (${row.used}): ${withUnit('log_year', row.mean ?? 0)}`, mean: row.mean ?? 0, low: row.low ?? 0, high: row.high ?? 0, end }));
    if (rows.length) say([`${capital(measured('log_year').axis)}, over all seasons so far, with 90 % intervals; the scale ends at ${withUnit('log_year', end)}; in brackets the logs.`]);
  }
  for (const [words, logs] of pictured(view)) {
    out.push({ part: 'heading', words, first: false });
    out.push({ part: 'logs', logs: logs.map((shown) => ({ log: shown.log.id, photo: shown.photo, words: logWords(shown) })) });
  }
  out.push({ part: 'heading', words: 'Losses', first: false });
  say(losses(view));
  out.push({ part: 'heading', words: 'What to lay next', first: false });
  say(layNext(view));
  out.push({ part: 'heading', words: 'Through the year', first: false });
  out.push({ part: 'bars', words: s.months.map(monthName), values: s.months.map((m) => m.grams) });
  out.push({ part: 'row', cells: ['Month', 'Weighed', 'Pickings', 'Not weighed'], head: true });
  s.months.forEach((m) => out.push({ part: 'row', cells: [monthName(m), grams(m.grams), String(m.pickings), String(m.unweighed)], head: false }));
  return out;
}
