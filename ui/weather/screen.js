// Weather by day: typed in, or taken from a station's file that the grower carries here.
// It never fetches. Invariant: a file is looked at first and taken only by its own button.

import { html } from '../vendor/lit-html/lit-html.js';
import { call, refused } from '../api/call.js';
import { head, trouble } from '../components/frame.js';
import { showWrong } from '../flow/form.js';
import { back, redraw, write } from '../flow/onshow.js';
import { explain, inOneText } from '../lib/explain.js';
import { dayPlus } from '../lib/format.js';
import { readAir, readRain, readWind } from '../lib/numbers.js';
import { newRequest } from '../lib/request.js';
import { fromParts, toParts } from '../lib/rough.js';
import { link } from '../lib/router.js';
import { WEATHER } from '../lib/topics.js';
import { days, fromFile, typeIn } from './parts.js';

/** @import {FileUnits, WeatherTried, WeatherView} from '../api/types.js' */
/** @import {RoughParts} from '../lib/rough.js' */
/** @import {Wrong} from '../flow/form.js' */

/** @typedef {{when: 'today' | 'yesterday' | 'tomorrow' | 'other', day: RoughParts, min: string, max: string, rain: string, wind: string}} Typed */
/** @typedef {{shown: WeatherView, typed: Typed, file: string, units: FileUnits | null, tried: WeatherTried | null, over: boolean, request: string, busy: boolean, wrong: Wrong | null}} View */

export const topics = WEATHER;
export const title = () => 'Weather';

/** @returns {Promise<View>} */
export async function load() {
  const shown = await call('weather_show', {});
  return { shown, typed: blank(shown.today), file: '', units: null, tried: null, over: false, request: newRequest(), busy: false, wrong: null };
}

/**
 * @param {string} today
 * @returns {Typed}
 */
function blank(today) {
  return { when: 'today', day: { ...toParts(today, 'day'), day: '' }, min: '', max: '', rain: '', wind: '' };
}

const KNOWN = ['day', 'min_dc', 'max_dc', 'rain_tenths', 'wind_tenths', 'file'];

/** @param {View} view */
export function render(view) {
  const known = view.wrong?.field && KNOWN.includes(view.wrong.field);
  return html`${head('Weather', { back: { label: 'Back', onBack: on.back } })}
    ${trouble(view.wrong && !known ? view.wrong.text : '')}
    ${typeIn(view, on)}
    ${days(view)}
    ${fromFile(view, on)}`;
}

export const on = {
  back: () => back(link('chores')),

  /** @param {View} view */
  typed(view) {
    view.wrong = null;
    redraw();
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async save(event, view) {
    event.preventDefault();
    const { typed } = view;
    const at = { today: 0, yesterday: -1, tomorrow: 1, other: 0 }[typed.when];
    const other = typed.when === 'other' ? fromParts({ ...typed.day, kind: 'day' }) : null;
    if (other && !other.ok) return showWrong(view, { field: 'day', text: other.why });
    const day = other?.value ?? dayPlus(view.shown.today, at);
    const read = { min_dc: readAir(typed.min), max_dc: readAir(typed.max), rain_tenths: readRain(typed.rain), wind_tenths: readWind(typed.wind) };
    for (const [field, value] of Object.entries(read)) {
      if (!value.ok) return showWrong(view, { field, text: value.why });
    }
    const value = (/** @type {import('../lib/numbers.js').Reading} */ r) => (r.ok ? r.value : null);
    await working(view, () => write('weather_set', { day, min_dc: value(read.min_dc), max_dc: value(read.max_dc), rain_tenths: value(read.rain_tenths), wind_tenths: value(read.wind_tenths), request: view.request, draft: null }));
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async file(event, view) {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const file = input.files?.[0];
    if (!file) return;
    view.file = await file.text();
    input.value = '';
    view.units = null;
    await tryFile(view, null);
  },

  /**
   * @param {View} view
   * @param {FileUnits} units
   */
  async units(view, units) {
    view.units = units;
    await tryFile(view, units);
  },

  /** @param {View} view */
  over(view) {
    view.over = !view.over;
    redraw();
  },

  /** @param {View} view */
  async take(view) {
    const { tried } = view;
    if (!tried) return;
    await working(view, () => write('weather_take', { text: view.file, units: tried.units, from: null, over_typed: view.over, request: view.request }));
  },
};

/**
 * @param {View} view
 * @param {FileUnits | null} units
 */
async function tryFile(view, units) {
  view.wrong = null;
  try {
    view.tried = await call('weather_try', { text: view.file, units, from: null });
    redraw();
  } catch (error) {
    view.tried = null;
    showWrong(view, { field: 'file', text: inOneText(refused(error)) });
  }
}

/**
 * @param {View} view
 * @param {() => Promise<unknown>} work
 */
async function working(view, work) {
  if (view.busy) return;
  Object.assign(view, { busy: true, wrong: null });
  redraw();
  try {
    await work();
  } catch (error) {
    const why = refused(error);
    view.busy = false;
    showWrong(view, { field: explain(why).field, text: inOneText(why) });
  }
}
