// The tank: what is in it and when to lift it, and what may go in.
// It never plans a rotation. Invariant: a load is one act, and what is unusual is asked once for all of it.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call, refused } from '../api/call.js';
import { askFirst } from '../components/ask-first.js';
import { head, trouble } from '../components/frame.js';
import { showWrong } from '../flow/form.js';
import { back, redraw, reload, written } from '../flow/onshow.js';
import { explain, inOneText } from '../lib/explain.js';
import { readAir, readLogWeight } from '../lib/numbers.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { LOGS, WEATHER } from '../lib/topics.js';
import { cautions, inTank, putIn } from './parts.js';

/** @import {SoakAsk, TankView} from '../api/types.js' */
/** @import {Wrong} from '../flow/form.js' */

/** @typedef {{shown: TankView, ins: Set<string>, outs: Set<string>, water: string, ago: {in: string, out: string}, weights: Map<string, string>, all: boolean, asks: SoakAsk[], request: string, busy: boolean, wrong: Wrong | null}} View */

export const topics = [...LOGS, ...WEATHER];
export const title = () => 'Tank';

/** @returns {Promise<View>} */
export async function load() {
  const shown = await call('tank_show', {});
  const outs = new Set(shown.tank.filter(({ lift }) => lift !== 'soaking').map(({ id }) => id));
  return { shown, ins: new Set(), outs, water: '', ago: { in: '0', out: '0' }, weights: new Map(), all: false, asks: [], request: newRequest(), busy: false, wrong: null };
}

/** @param {View} view */
export function render(view) {
  const known = view.wrong?.field === 'water_dc' || view.wrong?.field?.startsWith('g-');
  return html`${head('Tank', { back: { label: 'Back', onBack: on.back } })}
    ${trouble(view.wrong && !known ? view.wrong.text : '')}
    ${view.asks.length ? askFirst({ title: 'Before this load goes in', asks: view.asks, yes: 'Put it in all the same', onYes: () => on.in(view, true), onNo: () => on.not(view) }) : nothing}
    ${cautions()}
    ${inTank(view, on)}
    ${putIn(view, on)}`;
}

export const on = {
  back: () => back(link('chores')),
  changed: () => redraw(),

  /**
   * @param {View} view
   * @param {string} value
   */
  typed(view, value) {
    view.water = value;
    view.wrong = null;
  },

  /** @param {View} view */
  all(view) {
    view.all = !view.all;
    redraw();
  },

  /** @param {View} view */
  not(view) {
    Object.assign(view, { asks: [], request: newRequest() });
    redraw();
  },

  /**
   * @param {View} view
   * @param {boolean} sure
   */
  async in(view, sure) {
    const water = readAir(view.water);
    if (!water.ok) return showWrong(view, { field: 'water_dc', text: water.why });
    const weights = weighed(view, 'in');
    if (!weights) return;
    await soak(view, () => call('soak_in', { logs: [...view.ins], weights, water_dc: water.value, ago_min: Number(view.ago.in), day: null, note: '', sure, request: view.request, draft: null }));
  },

  /**
   * @param {View} view
   * @param {boolean} sure
   */
  async out(view, sure) {
    const weights = weighed(view, 'out');
    if (!weights) return;
    await soak(view, () => call('soak_out', { logs: [...view.outs], weights, ago_min: Number(view.ago.out), day: null, note: '', sure, request: view.request, draft: null }));
  },
};

/**
 * The weights typed for the load; null when one cannot be read, which is then said.
 * @param {View} view
 * @param {'in' | 'out'} part
 */
function weighed(view, part) {
  const weights = [];
  for (const log of part === 'in' ? view.ins : view.outs) {
    const read = readLogWeight(view.weights.get(log) ?? '');
    if (!read.ok) {
      showWrong(view, { field: `g-${part}-${log}`, text: read.why });
      return null;
    }
    if (read.value !== null) weights.push({ log, grams: read.value });
  }
  return weights;
}

/**
 * @param {View} view
 * @param {() => Promise<import('../api/types.js').Soaked>} work
 */
async function soak(view, work) {
  if (view.busy) return;
  Object.assign(view, { busy: true, wrong: null, asks: [] });
  redraw();
  try {
    const { asks, done } = await work();
    view.busy = false;
    view.asks = asks;
    if (done) {
      await written(done);
      return reload();
    }
    redraw();
    document.getElementById('ask-title')?.focus();
  } catch (error) {
    const why = refused(error);
    view.busy = false;
    showWrong(view, { field: explain(why).field, text: inOneText(why) });
  }
}
