// The spots in the order one walks them, what each is like, and the way to each.
// It never moves a log. Invariant: the order is changed by buttons; no dragging is needed.

import { html } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { head } from '../components/frame.js';
import { icon } from '../components/icons.js';
import { back, redraw, tellTrouble, write } from '../flow/onshow.js';
import { count } from '../lib/format.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { SPOTS } from '../lib/topics.js';
import { spotLike } from '../lib/words-yard.js';

/** @import {Station} from '../api/types.js' */
/** @typedef {{stations: Station[], nowhere: number, busy: boolean}} View */

export const topics = SPOTS;
export const title = () => 'Spots';

/** @returns {Promise<View>} */
export async function load() {
  const { stations } = await call('yard_map', {});
  return { stations: stations.filter(({ spot }) => spot !== null), nowhere: stations.find(({ spot }) => spot === null)?.total ?? 0, busy: false };
}

/** @param {View} view */
export function render(view) {
  return html`${head('Spots', { back: { label: 'Back', onBack: on.back }, end: html`<a class="button" id="add-spot" href=${link('spot-new')}>${icon('plus')} Add a spot</a>` })}
    ${view.stations.length === 0
      ? html`<section class="sheet first"><h2>No spots yet</h2><p>A spot is a place where logs lie: under the hedge, along the wall. Say what it is like, and its logs can be watered, moved and walked together.</p></section>`
      : html`<p class="soft">In the order you walk them.</p><ol class="plain spot-list">${view.stations.map((station, i) => line(view, station, i))}</ol>`}
    ${view.nowhere ? html`<p class="acts"><a class="button" href=${link('yard', { spot: '' })}>${count(view.nowhere, 'log')} without a spot</a></p>` : ''}
    <p class="acts"><a class="button" id="map" href=${link('map')}>${icon('map')} The map</a><a class="button" id="move" href=${link('move')}>${icon('carry')} Move logs</a></p>`;
}

/**
 * @param {View} view
 * @param {Station} station
 * @param {number} at
 */
function line(view, { spot, fields, total }, at) {
  if (!spot) return '';
  const like = spotLike(fields);
  return html`<li data-spot=${spot.name}>
    <a class="spot-way" href=${link('spot', { spot: spot.id })}><strong>${at + 1}. ${spot.name}</strong><span>${count(total, 'log')}</span><span class="soft">${like || 'Nothing said about it yet.'}</span></a>
    <span class="spot-moves">
      <button type="button" class="button" data-move="up" ?disabled=${at === 0} aria-label=${`Move ${spot.name} up`} @click=${() => on.move(view, at, -1)}>${icon('up')}</button>
      <button type="button" class="button" data-move="down" ?disabled=${at === view.stations.length - 1} aria-label=${`Move ${spot.name} down`} @click=${() => on.move(view, at, 1)}>${icon('down')}</button>
    </span>
  </li>`;
}

export const on = {
  back: () => back(link('yard')),

  /**
   * @param {View} view
   * @param {number} at
   * @param {number} by -1 up, 1 down
   */
  async move(view, at, by) {
    if (view.busy || !view.stations[at + by]) return;
    view.busy = true;
    const order = [...view.stations];
    const [moved] = order.splice(at, 1);
    order.splice(at + by, 0, moved);
    view.stations = order;
    redraw();
    try {
      await write('spot_order', { spots: order.flatMap(({ spot }) => (spot ? [spot.id] : [])), request: newRequest() });
    } catch (error) {
      tellTrouble(error);
    } finally {
      view.busy = false;
    }
  },
};
