// The pieces of bringing in a spreadsheet.
// They never read a cell. Invariant: each refused row is named by its number, its column, its text and its reason.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { chips, select } from '../components/field.js';
import { trouble } from '../components/frame.js';
import { wrongAt } from '../flow/form.js';
import { explainCell } from '../lib/explain.js';
import { capital, count, grams, listed, rough, size } from '../lib/format.js';
import { MEANINGS, meaningOf, raises } from '../lib/sheet.js';
import { MUSHROOM, meaningName } from '../lib/words.js';

/** @import {CsvTried, DateOrder, Delimiter, LengthUnit, LogFields, Meaning, Mushroom, PickingLine, Refused, WeightUnit} from '../api/types.js' */
/** @import {Match} from '../lib/sheet.js' */
/** @import {View} from './screen.js' */

/**
 * @param {View} view
 * @param {{file: (event: Event, view: View) => void, delimiter: (view: View, delimiter: Delimiter) => void}} on
 */
export function choose(view, on) {
  const { sheet } = view;
  return html`<section class="sheet" aria-labelledby="choose-title">
    <h2 id="choose-title">The file</h2>
    <p class="soft">A spreadsheet saved as CSV: its first row the headers, each row below one log, or one picking. Nothing is written until every row is good.</p>
    <label class="button button-wide file-button" for="sheet"><span>${view.busy && !sheet ? 'Reading…' : view.name ? 'Choose another file' : 'Choose a CSV file'}</span>
      <input id="sheet" name="sheet" type="file" accept=".csv,.tsv,.txt,text/csv,text/tab-separated-values,text/plain" ?disabled=${view.busy} @change=${(/** @type {Event} */ e) => on.file(e, view)} />
    </label>
    ${trouble(wrongAt(view.wrong, 'sheet'))}
    ${sheet ? html`<p id="sheet-said" role="status"><strong>${view.name}</strong>: ${count(sheet.rows, 'row')} and ${count(sheet.headers.length, 'column')} below the headers.${sheet.letters === 'windows-1252' ? ' Its letters were read as older Western spreadsheets write them; look whether accents are right.' : ''}</p>
      ${chips({ name: 'delimiter', legend: 'Cells are parted by', options: DELIMITERS, value: sheet.delimiter, onPick: (d) => on.delimiter(view, d) })}` : nothing}
  </section>`;
}

/** @type {{value: Delimiter, label: string}[]} */
const DELIMITERS = [{ value: 'comma', label: 'commas' }, { value: 'semicolon', label: 'semicolons' }, { value: 'tab', label: 'tabs' }];

/**
 * @param {View} view
 * @param {{match: (view: View, changes: Partial<Match>) => void, column: (view: View, column: number, meaning: Meaning | '') => void}} on
 */
export function columns(view, on) {
  const { sheet, match } = view;
  if (!sheet || !match) return nothing;
  /** @type {{value: 'logs' | 'pickings', label: string, hint: string}[]} */
  const rows = [{ value: 'logs', label: 'a log', hint: 'to be added to the yard' }, { value: 'pickings', label: 'a picking', hint: 'of a log that is in the yard' }];
  const options = [{ value: '', label: 'left out' }, ...MEANINGS[match.what].map((meaning) => ({ value: meaning, label: meaningName(meaning) }))];
  return html`<section class="sheet group" aria-labelledby="columns-title">
    <h2 id="columns-title">What its columns say</h2>
    ${chips({ name: 'what', legend: 'Each row is', options: rows, value: match.what, onPick: (what) => on.match(view, { what }) })}
    ${trouble(wrongAt(view.wrong, 'columns'))}
    <ul class="plain columns">${sheet.headers.map((header, i) => html`<li data-column=${i}>
      ${select({ name: `column-${i}`, label: header || `Column ${i + 1}`, options, value: meaningOf(match.columns, i), hint: such(sheet.sample, i), onInput: (meaning) => on.column(view, i, /** @type {Meaning | ''} */ (meaning)) })}
    </li>`)}</ul>
  </section>`;
}

/**
 * @param {string[][]} sample
 * @param {number} column
 */
function such(sample, column) {
  const cells = [...new Set(sample.map((row) => (row[column] ?? '').slice(0, 40)).filter(Boolean))].slice(0, 3);
  return cells.length ? `such as ${cells.join(' · ')}` : 'empty in the first rows';
}

/**
 * @param {View} view
 * @param {{match: (view: View, changes: Partial<Match>) => void, try: (view: View) => void}} on
 */
export function reading(view, on) {
  const { match } = view;
  if (!match) return nothing;
  const asks = raises(match);
  return html`<section class="sheet group" aria-labelledby="reading-title">
    <h2 id="reading-title">How it is written</h2>
    ${asks.dates ? chips({ name: 'dates', legend: 'Dates such as 3/5/2024 are', options: DATES, value: match.dates, hint: 'Years first (2024-05-03) and months by name are understood in any case.', onPick: (dates) => on.match(view, { dates }) }) : nothing}
    ${asks.lengths ? chips({ name: 'lengths', legend: 'Thickness and length are in', options: LENGTHS, value: match.lengths, onPick: (lengths) => on.match(view, { lengths }) }) : nothing}
    ${asks.weights ? chips({ name: 'weights', legend: 'Weights are in', options: WEIGHTS, value: match.weights, onPick: (weights) => on.match(view, { weights }) }) : nothing}
    ${asks.mushroom ? chips({ name: 'mushroom', legend: 'Where no cell says the mushroom, it is', options: MUSHROOMS, value: match.mushroom ?? '', onPick: (mushroom) => on.match(view, { mushroom: mushroom || null }) }) : nothing}
    <p class="acts"><button type="button" class=${`button button-wide ${view.tried?.bad === 0 ? '' : 'button-main'}`} id="try" ?disabled=${view.busy} @click=${() => on.try(view)}>Try it, without writing</button></p>
  </section>`;
}

/** @type {{value: DateOrder, label: string, hint: string}[]} */
const DATES = [{ value: 'dmy', label: 'day first', hint: '3 May' }, { value: 'mdy', label: 'month first', hint: '5 March' }, { value: 'ymd', label: 'always year first', hint: '2024-05-03' }];
/** @type {{value: LengthUnit, label: string}[]} */
const LENGTHS = [{ value: 'mm', label: 'mm' }, { value: 'cm', label: 'cm' }, { value: 'in', label: 'inches' }];
/** @type {{value: WeightUnit, label: string}[]} */
const WEIGHTS = [{ value: 'g', label: 'g' }, { value: 'kg', label: 'kg' }, { value: 'oz', label: 'ounces' }, { value: 'lb', label: 'pounds' }];
/** @type {{value: Mushroom | '', label: string}[]} */
const MUSHROOMS = [{ value: '', label: 'not known: refuse the row' }, { value: 'shiitake', label: MUSHROOM.shiitake }, { value: 'erinaceus', label: MUSHROOM.erinaceus }, { value: 'americanum', label: MUSHROOM.americanum }];

/**
 * @param {View} view
 * @param {{take: (view: View) => void}} on
 */
export function outcome(view, on) {
  const { tried, match } = view;
  if (!tried || !match) return nothing;
  const rows = (/** @type {number} */ n) => (match.what === 'logs' ? count(n, 'log') : count(n, 'picking'));
  return html`<section class="sheet" id="tried" aria-labelledby="tried-title">
    <h2 id="tried-title">What would come of it</h2>
    <p class="strong" id="tried-said" role="status">${said(tried, rows)}</p>
    ${tried.same_tag ? html`<p class="mind">${count(tried.same_tag, 'row')} ${tried.same_tag === 1 ? 'has a tag' : 'have tags'} that another log carries too. That is allowed; look whether it is meant.</p>` : nothing}
    ${tried.refused.length ? html`<ol class="plain refused" id="refused">${tried.refused.slice(0, MOST).map((one) => refusal(one, view))}</ol>
      ${tried.refused.length > MOST ? html`<p class="soft">and ${tried.refused.length - MOST} more.</p>` : nothing}
      <p>Mend these in the spreadsheet, save it once more and choose it again; or match the columns in another way above. All rows come in together, or none.</p>` : nothing}
    ${tried.sample.length ? html`<p class="soft">The first good rows, as they would be kept:</p>
      <ul class="plain sample">${tried.sample.map((row) => html`<li>${'log' in row ? picking(row) : log(row)}</li>`)}</ul>` : nothing}
    ${tried.bad === 0 ? html`<p class="acts"><button type="button" class="button button-main button-wide" id="take" ?disabled=${view.busy} @click=${() => on.take(view)}>Take in ${rows(tried.good)}</button></p>
      <p class="soft">It is one act: one undo takes all of it back.</p>` : nothing}
  </section>`;
}

const MOST = 100;

/**
 * @param {CsvTried} tried
 * @param {(n: number) => string} rows
 */
function said({ good, bad }, rows) {
  if (bad === 0) return `All good: ${rows(good)}. Nothing is written yet.`;
  return `${count(bad, 'row')} cannot be taken in, ${good === 0 ? 'none is' : good === 1 ? 'one is' : `${good} are`} good. Nothing was written.`;
}

/**
 * @param {Refused} one
 * @param {View} view
 */
function refusal(one, view) {
  const header = one.column === null ? '' : view.sheet?.headers[one.column] || `column ${one.column + 1}`;
  return html`<li data-row=${one.row}><strong>Row ${one.row}${header ? `, ${header}` : ''}</strong> <span>${explainCell(one, one.column === null || !view.match ? '' : meaningOf(view.match.columns, one.column))}</span></li>`;
}

/** @param {LogFields} row */
function log(row) {
  const parts = [MUSHROOM[row.mushroom], row.wood ? row.wood.replace(/-/g, ' ') : '', size(row), row.laid === null ? 'not laid yet' : row.laid === 'XXXX' ? '' : `laid ${rough(row.laid, '')}`, row.spot ?? ''];
  return html`<strong>Log ${row.tag}</strong> <span class="soft">${parts.filter(Boolean).join(', ')}</span>`;
}

/** @param {PickingLine} row */
function picking(row) {
  const parts = [grams(row.grams), row.caps === null ? '' : count(row.caps, 'cap'), row.damaged_pct === null ? '' : `${row.damaged_pct} % damaged`];
  return html`<strong>Log ${row.tag}, ${rough(row.day, '')}</strong> <span class="soft">${capital(listed(parts.filter(Boolean)))}</span>`;
}
