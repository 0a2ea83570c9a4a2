// Settings: the place and the wait after dark, the light, the walking order of the spots, and the way to Care.
// It never works out a time. Invariant: a setting refused keeps what was typed.

import { html } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { head, trouble } from '../components/frame.js';
import { inOneText } from '../lib/explain.js';
import { refused } from '../api/call.js';
import { showIn } from '../lib/format.js';
import * as light from '../lib/light.js';
import { readCount, readDegrees } from '../lib/numbers.js';
import { fromYearDay, toYearDay } from '../lib/rough.js';
import { showWrong } from '../flow/form.js';
import { back, redraw, tellTrouble, write } from '../flow/onshow.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { SETTINGS, SPOTS } from '../lib/topics.js';
import { lights, place, register, spots, ways } from './parts.js';

/** @import {Forcing, Light, SettingsView, SpotRow, Units} from '../api/types.js' */
/** @import {Wrong} from '../flow/form.js' */
/** @import {YearDay} from '../lib/rough.js' */

/** @typedef {{place: string, lat: string, lon: string, after: string}} Typed */
/** @typedef {{settings: SettingsView, spots: SpotRow[], typed: Typed, ways: {units: Units, forcing: Forcing}, first: YearDay, gap: string, light: Light, busy: boolean, wrong: Wrong | null, request: string}} View */

export const topics = [...SETTINGS, ...SPOTS];
export const title = () => 'Settings';

/** @returns {Promise<View>} */
export async function load() {
  const [settings, list] = await Promise.all([call('settings_show', {}), call('spot_list', {})]);
  const typed = { place: settings.place, lat: String(settings.lat ?? ''), lon: String(settings.lon ?? ''), after: String(settings.night_after_min) };
  return { settings, spots: list.spots, typed, ways: { units: settings.units, forcing: settings.forcing }, first: toYearDay(settings.season_first), gap: String(settings.flush_gap_days), light: settings.light, busy: false, wrong: null, request: newRequest() };
}

/** @param {View} view */
export function render(view) {
  const known = view.wrong?.field && ['place', 'lat', 'lon', 'night_after_min', 'season_first', 'flush_gap_days'].includes(view.wrong.field);
  return html`${head('Settings', { back: { label: 'Back', onBack: on.back } })}
    ${trouble(view.wrong && !known ? view.wrong.text : '')}
    ${place(view, on)}
    ${ways(view, on)}
    ${lights(view, on)}
    ${spots(view, on)}
    ${register(view)}`;
}

export const on = {
  back: () => back(link('chores')),

  /**
   * @param {View} view
   * @param {keyof Typed} field
   * @param {string} value
   */
  typed(view, field, value) {
    view.typed[field] = value;
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async save(event, view) {
    event.preventDefault();
    if (view.busy) return;
    const { typed } = view;
    const lat = readDegrees(typed.lat, 'lat');
    if (!lat.ok) return showWrong(view, { field: 'lat', text: lat.why });
    const lon = readDegrees(typed.lon, 'lon');
    if (!lon.ok) return showWrong(view, { field: 'lon', text: lon.why });
    const after = readCount(typed.after, 'minutes');
    if (!after.ok || after.value === null) return showWrong(view, { field: 'night_after_min', text: after.ok ? 'Write the minutes, such as 120.' : after.why });
    view.busy = true;
    view.wrong = null;
    redraw();
    try {
      await write('settings_set', { place: typed.place.trim(), lat: lat.value, lon: lon.value, night_after_min: after.value, request: view.request });
    } catch (error) {
      const why = refused(error);
      showWrong(view, { field: why.field, text: inOneText(why) });
    } finally {
      view.busy = false;
      view.request = newRequest();
      redraw();
    }
  },

  /**
   * @param {View} view
   * @param {Partial<View['ways']>} change
   */
  ways: (view, change) => keepWays(view, { ...view.ways, ...change }, view.settings.season_first),

  /**
   * @param {View} view
   * @param {string} month
   */
  firstMonth(view, month) {
    view.first.month = month;
    if (!view.first.day) view.first.day = '1';
    if (view.wrong?.field === 'season_first') view.wrong = null;
    redraw();
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async first(event, view) {
    event.preventDefault();
    const first = fromYearDay(view.first);
    if (first.ok) return keepWays(view, view.ways, first.value);
    view.wrong = { field: 'season_first', text: first.why };
    redraw();
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async gap(event, view) {
    event.preventDefault();
    const days = readCount(view.gap, 'days');
    if (!days.ok) return showWrong(view, { field: 'flush_gap_days', text: days.why });
    await keep(view, () => write('flush_gap_set', { days: days.value, request: newRequest() }));
  },

  /**
   * @param {View} view
   * @param {Light} chosen
   */
  async light(view, chosen) {
    try {
      await call('light_set', { light: chosen });
      light.leaveLamp();
      light.set(chosen);
      view.light = chosen;
      redraw();
    } catch (error) {
      tellTrouble(error);
    }
  },

  /**
   * @param {View} view
   * @param {number} at
   * @param {number} by -1 up, 1 down
   */
  async move(view, at, by) {
    if (view.busy || !view.spots[at + by]) return;
    view.busy = true;
    const order = [...view.spots];
    const [moved] = order.splice(at, 1);
    order.splice(at + by, 0, moved);
    view.spots = order;
    redraw();
    try {
      await write('spot_order', { spots: order.map(({ id }) => id), request: newRequest() });
    } catch (error) {
      tellTrouble(error);
    } finally {
      view.busy = false;
    }
  },
};

/**
 * @param {View} view
 * @param {View['ways']} chosen
 * @param {string | null} first
 */
async function keepWays(view, chosen, first) {
  await keep(view, async () => {
    await write('ways_set', { ...chosen, season_first: first, request: newRequest() });
    showIn(chosen.units);
    view.ways = chosen;
  });
}

/**
 * One write at a time; what was refused is said at its field.
 * @param {View} view
 * @param {() => Promise<unknown>} writing
 */
async function keep(view, writing) {
  if (view.busy) return;
  Object.assign(view, { busy: true, wrong: null });
  try {
    await writing();
  } catch (error) {
    const why = refused(error);
    showWrong(view, { field: why.field, text: inOneText(why) });
  } finally {
    view.busy = false;
    redraw();
  }
}
