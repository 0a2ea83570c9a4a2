// Chores: tonight's round, caps that are out, forms not finished, the last act.
// It never works out what is due; the backend does. Invariant: an empty yard is told what to do first.

import { html } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { head } from '../components/frame.js';
import { icon } from '../components/icons.js';
import { dropDraft, keptDraft } from '../flow/draft.js';
import * as light from '../lib/light.js';
import * as standing from '../flow/standing.js';
import { go, redraw, reload, tellTrouble, undo, write, written } from '../flow/onshow.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { ALL } from '../lib/topics.js';
import { care } from './care.js';
import { dues } from './due.js';
import { capsOut, firstLog, lastAct, tonight, tonightsRound, unfinished } from './parts.js';

/** @import {ActRow, ChoresView, Due, RoundsView} from '../api/types.js' */

/** @typedef {{key: string, href: string, words: string}} Unfinished */
/** @typedef {ChoresView & {rounds: RoundsView | null, unfinished: Unfinished[], twins: number, busy: boolean, request: string, lamp: boolean}} View */

export const topics = ALL;
export const frame = /** @type {const} */ ('tab');
export const title = () => 'Chores';

/** @returns {Promise<View>} */
export async function load() {
  const [chores, twins, rounds] = await Promise.all([call('chores_show', {}), waiting(), call('rounds_show', {}).catch(() => null)]);
  const kept = await Promise.all(chores.drafts.filter(({ key }) => !key.startsWith('check:') && !key.startsWith('pick:')).map(({ key }) => named(key)));
  if (chores.trouble.length > 0 && !standing.closed()) await standing.look();
  return { ...chores, rounds, unfinished: kept, twins, busy: false, request: newRequest(), lamp: light.shown() === 'lamp' };
}

/** How many pickings may be one; a register that cannot say so must not keep the chores away. */
async function waiting() {
  try {
    return (await call('twins_show', {})).twins.length;
  } catch {
    return 0;
  }
}

/**
 * @param {string} key
 * @returns {Promise<Unfinished>}
 */
async function named(key) {
  const [kind, log] = key.split(':');
  const draft = /** @type {{about?: string} | null} */ (await keptDraft(key));
  const tag = draft?.about ? ` ${draft.about}` : '';
  if (kind === 'basket') return { key, href: link('basket', { basket: log }), words: 'the weight of a basket' };
  if (kind === 'sheet') return { key, href: link('sheet'), words: 'a round sheet' };
  if (kind === 'sighting') return { key, href: link('sighting', log === 'yard' ? {} : { log }), words: `a sighting${tag ? ` on log${tag}` : ''}` };
  if (kind === 'look') return { key, href: link('look', { log }), words: `a look at log${tag}` };
  if (kind === 'picking') return { key, href: link('picking', { log }), words: `a picking of log${tag}` };
  if (kind === 'condition') return { key, href: link('condition', { log }), words: `the state of the wood of log${tag}` };
  if (kind === 'logs') return { key, href: link('logs-new'), words: 'many new logs' };
  if (kind === 'spot') return { key, href: log === 'new' ? link('spot-new') : link('spot-edit', { spot: log }), words: `a spot${draft?.about ? `, ${draft.about}` : ''}` };
  if (kind === 'batch') return { key, href: link('batch', { batch: log }), words: `a batch of wood${tag}` };
  if (kind === 'wood') return { key, href: link('wood', { wood: log }), words: `an own wood${tag}` };
  if (kind === 'strain') return { key, href: link('strain', { strain: log }), words: `a strain${tag}` };
  if (kind === 'lot') return { key, href: link('lot', { lot: log }), words: `a spawn lot${tag}` };
  if (log === 'new') return { key, href: link('log-new'), words: `a new log${tag}` };
  return { key, href: link('log-edit', { log }), words: `changes to log${tag}` };
}

/** @param {View} view */
export function render(view) {
  const end = html`<span class="head-end">
    ${view.lamp ? html`<button type="button" id="day-light" class="head-button" aria-label="Switch to day light" @click=${on.dayLight}>${icon('sun')}</button>` : ''}
    <a class="head-button" id="settings" href=${link('settings')} aria-label="Settings">${icon('gear')}</a>
  </span>`;
  return html`${head('Chores', { end })}
    ${view.total === 0 ? firstLog() : tonight(view, on)}
    ${care(view)}
    ${dues(view, on)}
    ${capsOut(view)}
    ${unfinished(view, on)}
    ${lastAct(view, on)}`;
}

export const on = {
  /** @param {View} view */
  async round(view) {
    if (view.busy) return;
    const open = tonightsRound(view);
    if (open) return void go(link('round', { round: open.id }));
    view.busy = true;
    redraw();
    try {
      const done = await write('round_start', { request: view.request });
      void go(link('round', { round: done.said.round }));
    } catch (error) {
      view.busy = false;
      tellTrouble(error);
    }
  },

  /** @param {View} view */
  async pick(view) {
    if (view.busy) return;
    const open = view.rounds?.picking;
    if (open) return void go(link('pick-round', { round: open.id }));
    view.busy = true;
    redraw();
    try {
      const done = await write('round_start', { kind: 'picking', request: view.request });
      void go(link('pick-round', { round: done.said.round }));
    } catch (error) {
      view.busy = false;
      tellTrouble(error);
    }
  },

  /**
   * Does a chore by its one tap.
   * @param {View} view
   * @param {Due} due
   */
  async tap(view, due) {
    await busily(view, async () => {
      const request = { ...due.tap.request, request: view.request };
      if (due.tap.command === 'soak_out') {
        const { done } = await call('soak_out', /** @type {any} */ (request));
        return done ? written(done) : go(link('tank'));
      }
      await write('water_add', /** @type {any} */ (request));
    });
  },

  /**
   * @param {View} view
   * @param {string} key
   * @param {string | null} until null brings it back
   */
  async later(view, key, until) {
    await busily(view, () => write('chore_put_off', { key, until, request: view.request }));
  },

  /** @param {Unfinished} draft */
  async throwAway(draft) {
    try {
      await dropDraft(draft.key);
      await reload();
    } catch (error) {
      tellTrouble(error);
    }
  },

  /** @param {ActRow} act */
  undo: (act) => void undo(act.act),

  async dayLight() {
    try {
      light.leaveLamp();
      if (light.shown() === 'lamp') {
        await call('light_set', { light: 'system' });
        light.set('system');
      }
      await reload();
    } catch (error) {
      tellTrouble(error);
    }
  },
};

/**
 * @param {View} view
 * @param {() => Promise<unknown>} work
 */
async function busily(view, work) {
  if (view.busy) return;
  view.busy = true;
  redraw();
  try {
    await work();
  } catch (error) {
    tellTrouble(error);
  }
  Object.assign(view, { busy: false, request: newRequest() });
  redraw();
}
