// The map: the spots as stations along the way one walks, each with the end-grain pictures of its logs.
// It never writes. Invariant: all that the map shows stands beneath it in words, with the same links.

import { html, nothing, svg } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { shapes } from '../components/endgrain.js';
import { head } from '../components/frame.js';
import { back } from '../flow/onshow.js';
import { count } from '../lib/format.js';
import { link } from '../lib/router.js';
import { LOGS } from '../lib/topics.js';
import { STATE } from '../lib/words.js';
import { spotLike } from '../lib/words-yard.js';
import { DISC, WIDTH, layout } from './layout.js';

/** @import {LogRow, MapView, Station} from '../api/types.js' */
/** @import {Placed} from './layout.js' */

export const topics = LOGS;
export const title = () => 'Map';

/** @returns {Promise<MapView>} */
export function load() {
  return call('yard_map', {});
}

/** @param {MapView} view */
export function render(view) {
  if (view.stations.length === 0) {
    return html`${top()}<section class="sheet first"><h2>Nothing to draw yet</h2><p>The map draws itself from your spots and the logs on them.</p>
      <p class="acts"><a class="button button-main" href=${link('spot-new')}>Add a spot</a><a class="button" href=${link('log-new')}>Add a log</a></p></section>`;
  }
  const { placed, height, way } = layout(view.stations);
  return html`${top()}
    <p class="soft">Each disc is a log: tap it. The way runs in walking order.</p>
    <svg class="map" viewBox=${`0 0 ${WIDTH} ${height}`} role="group" aria-label="Map of the yard; the same in words beneath">
      <path class="map-way" d=${way} />
      ${placed.map((one, i) => station(one, i))}
    </svg>
    <details class="where" id="map-words"><summary>The same in words</summary>
      <ol class="map-list">${view.stations.map((one) => inWords(one))}</ol>
    </details>`;
}

const top = () => head('Map', { back: { label: 'Back', onBack: on.back } });

/**
 * @param {Placed} placed
 * @param {number} i
 */
function station({ x, y, station: { spot, fields, total }, title: line, logs, bottom }, i) {
  const name = spot ? spot.name : 'No spot';
  const href = spot ? link('spot', { spot: spot.id }) : link('yard', { spot: '' });
  const roof = fields?.rain === 'none';
  return svg`<g class="map-station" data-spot=${name}>
    <a href=${href}>
      <rect class="map-hit" x="0" y=${line - 28} width=${WIDTH} height="50" />
      ${roof ? svg`<path class="map-roof" d=${`M${x - 16} ${y - 9}L${x} ${y - 22}L${x + 16} ${y - 9}`} />` : nothing}
      <circle class="map-stop" cx=${x} cy=${y} r="13" /><text class="map-number" x=${x} y=${y + 5}>${spot ? i + 1 : '?'}</text>
      <text class="map-name" x="56" y=${line}>${short(name)}</text>
      <text class="map-count" x="56" y=${line + 18}>${count(total, 'log')}${fields?.heated ? ', kept from frost' : roof ? ', under a roof' : ''}${total > logs.length ? `, ${logs.length} drawn` : ''}</text>
    </a>
    ${logs.map((one) => disc(one))}
    ${logs.length === 0 ? svg`<text class="map-count" x="56" y=${bottom + 4}>no logs</text>` : nothing}
  </g>`;
}

/** @param {{x: number, y: number, log: LogRow}} at */
function disc({ x, y, log }) {
  return svg`<a href=${link('log', { log: log.id })} data-log=${log.id} aria-label=${`Log ${log.tag}, ${STATE[log.state]}`}>
    <rect class="map-hit" x=${x} y=${y} width="60" height="60" />
    <svg class="map-disc" x=${x + 4} y=${y} width=${DISC - 6} height=${DISC - 6} viewBox="0 0 100 100">${shapes(log.grain)}</svg>
    <text class="map-tag" x=${x + 27} y=${y + 57}>${short(log.tag, 8)}</text>
  </a>`;
}

/**
 * @param {string} text
 * @param {number} [most]
 */
function short(text, most = 26) {
  return text.length > most ? `${text.slice(0, most - 1)}…` : text;
}

/** @param {Station} one */
function inWords({ spot, fields, logs, total }) {
  const like = spotLike(fields);
  return html`<li><p><a class="way-inline" href=${spot ? link('spot', { spot: spot.id }) : link('yard', { spot: '' })}>${spot ? spot.name : 'No spot'}</a> <span class="soft">${count(total, 'log')}${like ? `; ${like}` : ''}</span></p>
    <ul class="plain">${logs.map((log) => html`<li><a class="way-inline" href=${link('log', { log: log.id })}>Log ${log.tag}</a> ${STATE[log.state]}</li>`)}</ul></li>`;
}

export const on = { back: () => back(link('yard')) };
