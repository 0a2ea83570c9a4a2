// Measuring caps in a photo: two points on a cap's rim, its number, and how far it stands out.
// It never reckons itself; the backend does. Invariant: a width is shown with its range before it can be kept.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call, refused } from '../api/call.js';
import { head, trouble } from '../components/frame.js';
import { back, redraw, reload, write } from '../flow/onshow.js';
import { inOneText } from '../lib/explain.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { WHY_NOT, nextCap } from '../lib/words-photos.js';
import { answer, grown, hints, picture, proudField } from './parts.js';

/** @import {CapForm, CapTried} from '../api/types.js' */
/** @typedef {[number, number]} Point */
/** @typedef {CapForm & {points: Point[], zoom: number, moving: number, proud: string, cap: number, tried: CapTried | null, wrong: string, asked: number, busy: boolean}} View */

export const topics = /** @type {string[]} */ ([]);
export const title = (/** @type {View} */ view) => `Measure caps of log ${view.log.tag}`;

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ log, hash }) {
  const form = await call('cap_form', { log, hash });
  return { ...form, points: [], zoom: 1, moving: 0, proud: '', cap: nextCap(form.caps, hash), tried: null, wrong: '', asked: 0, busy: false };
}

/** @param {View} view */
export function render(view) {
  return html`${head(`Measure, log ${view.log.tag}`, { back: { label: 'Back', onBack: () => on.back(view) } })}
    ${view.why_not ? html`<p class="mind">${WHY_NOT[view.why_not] ?? view.why_not}</p>` : html`
      ${view.other ? html`<p class="trouble">The tag in this photo is that of log ${view.other.tag}. Measuring by it is right all the same; see that the photo belongs to log ${view.log.tag}.</p>` : nothing}
      ${hints(view)}
      ${picture(view, on)}
      ${trouble(view.wrong)}
      ${proudField(view, on)}
      ${answer(view, on)}`}
    ${grown(view)}`;
}

/**
 * How near a finger comes to what it means, in pixels of the photo.
 * @param {View} view
 */
function tapPixels(view) {
  const shown = document.getElementById('measure-picture')?.getBoundingClientRect().width ?? 360;
  return Math.max(1, (1.5 * view.width) / Math.max(1, shown));
}

/** @param {View} view */
async function ask(view) {
  const mine = ++view.asked;
  view.tried = null;
  view.wrong = '';
  if (view.points.length === 2) {
    try {
      const tried = await call('cap_try', measured(view));
      if (mine !== view.asked) return;
      view.tried = tried;
    } catch (error) {
      if (mine !== view.asked) return;
      view.wrong = inOneText(refused(error));
    }
  }
  redraw();
}

/** @param {View} view */
function measured(view) {
  const [a, b] = view.points;
  return { log: view.log.log, hash: view.hash, a, b, tap_px: tapPixels(view), proud_mm: view.proud === '' ? null : Number(view.proud) };
}

export const on = {
  /** @param {View} view */
  back: (view) => back(link('log', { log: view.log.log })),

  /**
   * @param {View} view
   * @param {Point} at in pixels of the photo
   */
  tap(view, at) {
    if (view.points.length < 2) {
      view.points = [...view.points, at];
      view.moving = view.points.length - 1;
    } else {
      // A third tap moves the nearer point.
      const far = (/** @type {Point} */ p) => Math.hypot(p[0] - at[0], p[1] - at[1]);
      view.moving = far(view.points[0]) <= far(view.points[1]) ? 0 : 1;
      view.points = view.points.map((point, i) => (i === view.moving ? at : point));
    }
    redraw();
    void ask(view);
  },

  /**
   * @param {View} view
   * @param {number} dx on the screen
   * @param {number} dy
   */
  nudge(view, dx, dy) {
    const middle = /** @type {Point} */ ([view.width / 2, view.height / 2]);
    if (view.points.length < 2 && view.points[view.moving] === undefined) view.points = [...view.points, middle];
    const step = tapPixels(view) / 1.5;
    const hold = (/** @type {number} */ v, /** @type {number} */ most) => Math.max(0, Math.min(most, v));
    view.points = view.points.map((p, i) => (i === view.moving ? [hold(p[0] + dx * step, view.width), hold(p[1] + dy * step, view.height)] : p));
    redraw();
    void ask(view);
  },

  /**
   * By keys or buttons: the other point, setting it first when it is not there.
   * @param {View} view
   */
  other(view) {
    if (view.points.length < 2) {
      const [x, y] = view.points[0] ?? [view.width / 2, view.height / 2];
      view.points = [...view.points, [x, y]];
      view.moving = view.points.length - 1;
    } else view.moving = 1 - view.moving;
    redraw();
    void ask(view);
  },

  /** @param {View} view */
  again(view) {
    Object.assign(view, { points: [], moving: 0, tried: null, wrong: '' });
    redraw();
  },

  /**
   * @param {View} view
   * @param {number} zoom
   */
  zoom(view, zoom) {
    view.zoom = zoom;
    redraw();
    if (view.points.length === 2) void ask(view);
  },

  /**
   * @param {View} view
   * @param {string} proud
   */
  proud(view, proud) {
    view.proud = proud;
    redraw();
    void ask(view);
  },

  /**
   * @param {View} view
   * @param {number} cap
   */
  cap(view, cap) {
    view.cap = Math.max(1, Math.min(99, cap));
    redraw();
  },

  /** @param {View} view */
  async keep(view) {
    if (view.busy || view.points.length < 2) return;
    view.busy = true;
    redraw();
    try {
      await write('cap_add', { measured: measured(view), cap: view.cap, request: newRequest() });
      await reload();
    } catch (error) {
      view.wrong = inOneText(refused(error));
      view.busy = false;
      redraw();
    }
  },
};
