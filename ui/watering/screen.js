// Watering: who wants water and who gets it first, a whole spot in one tap, or the logs that are ticked.
// It never works out a drought; the backend does. Invariant: the order of the list is the order of the water.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call, refused } from '../api/call.js';
import { chips, text } from '../components/field.js';
import { head, trouble } from '../components/frame.js';
import { icon } from '../components/icons.js';
import { logTicks } from '../components/log-ticks.js';
import { whereFrom } from '../components/where-from.js';
import { showWrong, wrongAt } from '../flow/form.js';
import { back, redraw, write } from '../flow/onshow.js';
import { explain, inOneText } from '../lib/explain.js';
import { capital, count, dayName, dayPlus, isUs, litres, rain } from '../lib/format.js';
import { readLitres } from '../lib/numbers.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { LOGS, WEATHER } from '../lib/topics.js';
import { STATE } from '../lib/words.js';

/** @import {MoistureRow, MoistureRows} from '../api/types.js' */
/** @import {Wrong} from '../flow/form.js' */

/** @typedef {{rows: MoistureRows, ticked: Set<string>, all: boolean, when: 'today' | 'yesterday', litres: string, have: string, request: string, busy: boolean, wrong: Wrong | null}} View */

export const topics = [...LOGS, ...WEATHER];
export const title = () => 'Water';

/** @returns {Promise<View>} */
export async function load() {
  const rows = await call('moisture_list', {});
  const ticked = new Set(rows.logs.filter(({ thirsty }) => thirsty).map(({ id }) => id));
  return { rows, ticked, all: ticked.size === 0, when: 'today', litres: '', have: '', request: newRequest(), busy: false, wrong: null };
}

/** @param {View} view */
export function render(view) {
  const { rows } = view;
  const known = ['litres_tenths', 'have'].includes(view.wrong?.field ?? '');
  return html`${head('Water', { back: { label: 'Back', onBack: on.back } })}
    ${trouble(view.wrong && !known ? view.wrong.text : '')}
    ${rows.logs.length === 0 ? html`<p class="soft" id="nothing-laid">No laid log to water yet.</p>` : html`${thirsty(view)}${spots(view)}`}`;
}

/** @param {View} view */
function thirsty(view) {
  const { rows, ticked } = view;
  const want = rows.logs.filter((row) => row.thirsty);
  const shown = view.all ? rows.logs : want;
  const n = ticked.size;
  return html`<section class="sheet group" aria-labelledby="water-title">
    <h2 id="water-title">${want.length === 0 ? 'No log wants water' : `${count(want.length, 'log')} ${want.length === 1 ? 'wants' : 'want'} water`}</h2>
    ${want.length === 0 ? html`<p class="soft">As far as your weather and weighings say. Without <a href=${link('weather')}>weather</a> of the last days nothing is said to be dry.</p>` : nothing}
    ${want.length > 1 ? text({ name: 'have', label: 'Few litres? Write how many there are', unit: isUs() ? 'gal' : 'l', value: view.have, keys: 'decimal', hint: `${litres(rows.sip_tenths)} each (our own choice): spawn run first, then pins, then caps.`, wrong: wrongAt(view.wrong, 'have'), onInput: (value) => on.have(view, value) }) : nothing}
    ${shown.length ? logTicks({ name: 'water', legend: view.all ? 'All laid logs' : 'Who gets it first', logs: shown.map((row) => ({ id: row.id, tag: row.tag, words: words(row, rows) })), ticked, onChange: () => redraw() }) : nothing}
    ${rows.logs.length > want.length ? html`<p class="acts"><button type="button" class="button" id="all-logs" @click=${() => on.all(view)}>${view.all ? 'Only those that want it' : `Show the other ${rows.logs.length - want.length}`}</button></p>` : nothing}
    ${text({ name: 'litres_tenths', label: 'On each log', unit: isUs() ? 'gal' : 'l', value: view.litres, keys: 'decimal', hint: 'Empty: not said.', wrong: wrongAt(view.wrong, 'litres_tenths'), onInput: (value) => on.typed(view, value) })}
    ${chips({ name: 'when', legend: 'Watered', options: /** @type {{value: 'today' | 'yesterday', label: string}[]} */ ([{ value: 'today', label: 'today' }, { value: 'yesterday', label: 'yesterday' }]), value: view.when, onPick: (value) => { view.when = value; redraw(); } })}
    <p class="acts"><button type="button" class="button button-main button-wide" id="water" ?disabled=${view.busy || n === 0} @click=${() => on.water(view, null)}>${icon('tick')} ${n === 0 ? 'Watered' : `${count(n, 'log')} watered`}</button></p>
    ${whereFrom(rows.from)}
  </section>`;
}

/**
 * @param {MoistureRow} row
 * @param {MoistureRows} rows
 */
function words(row, rows) {
  const dry = row.week_tenths === null ? 'rain not known' : `${rain(row.week_tenths)} in a week`;
  const watered = row.watered ? `, watered ${dayName(row.watered, rows.today)}` : '';
  return `${capital(STATE[row.state])}${row.spot ? ` · ${row.spot}` : ''} · ${dry}${watered}`;
}

/** @param {View} view */
function spots(view) {
  /** @type {Map<string, {name: string, n: number}>} */
  const all = new Map();
  for (const { spot_id: id, spot } of view.rows.logs) {
    if (id && spot) all.set(id, { name: spot, n: (all.get(id)?.n ?? 0) + 1 });
  }
  if (all.size === 0) return nothing;
  return html`<section aria-labelledby="spots-title"><h2 id="spots-title">A whole spot at once</h2>
    <p class="acts">${[...all].map(([id, { name, n }]) => html`<button type="button" class="button" data-spot=${name} ?disabled=${view.busy} @click=${() => on.water(view, id)}>${name}, ${count(n, 'log')}</button>`)}</p>
  </section>`;
}

export const on = {
  back: () => back(link('chores')),

  /** @param {View} view */
  all(view) {
    view.all = !view.all;
    redraw();
  },

  /**
   * @param {View} view
   * @param {string} value
   */
  typed(view, value) {
    view.litres = value;
    view.wrong = null;
  },

  /**
   * Ticks the first ones that the water is enough for.
   * @param {View} view
   * @param {string} value
   */
  have(view, value) {
    view.have = value;
    const read = readLitres(value);
    if (!read.ok) return void showWrong(view, { field: 'have', text: read.why });
    const want = view.rows.logs.filter((row) => row.thirsty);
    const n = read.value === null ? want.length : Math.floor(read.value / view.rows.sip_tenths);
    view.ticked = new Set(want.slice(0, n).map(({ id }) => id));
    view.wrong = null;
    redraw();
  },

  /**
   * @param {View} view
   * @param {string | null} spot
   */
  async water(view, spot) {
    if (view.busy) return;
    const amount = readLitres(view.litres);
    if (!amount.ok) return showWrong(view, { field: 'litres_tenths', text: amount.why });
    Object.assign(view, { busy: true, wrong: null });
    redraw();
    try {
      await write('water_add', { logs: spot ? [] : [...view.ticked], spot, litres_tenths: amount.value, day: view.when === 'today' ? null : dayPlus(view.rows.today, -1), note: '', request: view.request, draft: null });
      Object.assign(view, { busy: false, request: newRequest() });
      redraw();
    } catch (error) {
      const why = refused(error);
      view.busy = false;
      showWrong(view, { field: explain(why).field, text: inOneText(why) });
    }
  },
};
