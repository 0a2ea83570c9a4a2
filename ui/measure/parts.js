// The pieces of measuring: the picture with the tag's frame and two points, what stands out, the width, the growth.
// They never call the backend. Invariant: everything a finger can do, keys can.

import { html, nothing, svg } from '../vendor/lit-html/lit-html.js';
import { photoUrl } from '../api/call.js';
import { select } from '../components/field.js';
import { icon } from '../components/icons.js';
import { dayName } from '../lib/format.js';
import { growthWords, mm, widthWords } from '../lib/words-photos.js';

/** @import {Point, View} from './screen.js' */

/** @typedef {typeof import('./screen.js').on} On */

const ZOOMS = [1, 2, 4];

/** @param {View} view */
export function hints(view) {
  const words = view.points.length === 0 ? 'Tap one side of the cap’s rim, then the other.' : view.points.length === 1 ? 'Now tap the other side of the same cap.' : 'Tap near a point to move it, or use the arrows.';
  return html`<p id="measure-hint" role="status">${words}</p>`;
}

/**
 * @param {View} view
 * @param {On} on
 */
export function picture(view, on) {
  const box = `0 0 ${view.width} ${view.height}`;
  const dot = Math.max(view.width, view.height) / (70 * view.zoom);
  const frame = view.corners ? view.corners.map(([x, y]) => `${x},${y}`).join(' ') : '';
  return html`<div class="measure-frame" tabindex="0" role="group" aria-label="The photo. Arrow keys move the point, Enter goes to the other one." @keydown=${(/** @type {KeyboardEvent} */ e) => keys(e, view, on)}>
      <div class=${`measure-inner measure-zoom-${view.zoom}`} id="measure-picture" @click=${(/** @type {MouseEvent} */ e) => on.tap(view, place(e, view))}>
        <span class="photo-dim measure-photo"><img src=${photoUrl(view.hash, view.zoom > 1 ? 'whole' : 'large')} alt=${`Photo of log ${view.log.tag} with its tag`} /></span>
        <svg class="measure-lines" viewBox=${box} aria-hidden="true">
          ${frame ? svg`<polygon class="measure-tag" points=${frame} />` : nothing}
          ${view.points.length === 2 ? svg`<line class="measure-line" x1=${view.points[0][0]} y1=${view.points[0][1]} x2=${view.points[1][0]} y2=${view.points[1][1]} />` : nothing}
          ${view.points.map(([x, y], i) => svg`<circle class=${`measure-dot ${i === view.moving ? 'measure-moving' : ''}`} cx=${x} cy=${y} r=${dot} /><circle class="measure-core" cx=${x} cy=${y} r=${dot / 6} />`)}
        </svg>
      </div>
    </div>
    <div class="measure-tools">
      <div class="measure-zooms" role="group" aria-label="Zoom">${ZOOMS.map((zoom) => html`<button type="button" class="button" data-zoom=${zoom} aria-pressed=${view.zoom === zoom ? 'true' : 'false'} @click=${() => on.zoom(view, zoom)}>${zoom}×</button>`)}</div>
      <div class="measure-arrows" role="group" aria-label="Move the point">
        <button type="button" class="button" aria-label="Left" @click=${() => on.nudge(view, -1, 0)}>${icon('back')}</button>
        <button type="button" class="button" aria-label="Up" @click=${() => on.nudge(view, 0, -1)}>${icon('up')}</button>
        <button type="button" class="button" aria-label="Down" @click=${() => on.nudge(view, 0, 1)}>${icon('down')}</button>
        <button type="button" class="button" aria-label="Right" @click=${() => on.nudge(view, 1, 0)}>${icon('more')}</button>
      </div>
      <button type="button" class="button" id="other-point" @click=${() => on.other(view)}>Other point</button>
      <button type="button" class="button button-quiet" id="measure-again" @click=${() => on.again(view)}>Start over</button>
    </div>`;
}

/**
 * Where a tap lies, in pixels of the photo.
 * @param {MouseEvent} event
 * @param {View} view
 * @returns {Point}
 */
function place(event, view) {
  const box = /** @type {HTMLElement} */ (event.currentTarget).getBoundingClientRect();
  return [((event.clientX - box.left) / box.width) * view.width, ((event.clientY - box.top) / box.height) * view.height];
}

/**
 * @param {KeyboardEvent} event
 * @param {View} view
 * @param {On} on
 */
function keys(event, view, on) {
  /** @type {Record<string, [number, number]>} */
  const steps = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  const step = steps[event.key];
  if (step) on.nudge(view, step[0] * (event.shiftKey ? 10 : 1), step[1] * (event.shiftKey ? 10 : 1));
  else if (event.key === 'Enter') on.other(view);
  else return;
  event.preventDefault();
}

/**
 * @param {View} view
 * @param {On} on
 */
export function proudField(view, on) {
  const options = [{ value: '', label: 'Not sure: show the whole range' }, { value: '0', label: 'Flush with the tag' },
    ...[10, 20, 30, 40, 60].map((n) => ({ value: String(n), label: `About ${n / 10} cm nearer to the camera` })), { value: '-10', label: 'About 1 cm farther back' }];
  return select({ name: 'proud', label: 'The cap’s rim, against the tag', value: view.proud, options, hint: 'What stands out from the bark looks larger: 3 cm at 30 cm make about a tenth.', onInput: (value) => on.proud(view, value) });
}

/**
 * @param {View} view
 * @param {On} on
 */
export function answer(view, on) {
  const { tried } = view;
  return html`<section class="sheet" aria-labelledby="width-title">
    <h2 id="width-title">Width</h2>
    <p class="measure-width" id="width" role="status">${tried ? widthWords(tried) : 'Not measured yet.'}</p>
    ${tried ? html`<details class="where"><summary>Where from</summary>
      <p>Two points, through the tag’s plane: its code is ${view.code_mm} mm wide.${view.distance_mm === null ? '' : ` The tag was about ${Math.round(view.distance_mm / 10)} cm from the camera.`}</p>
      <p>The range holds how near a finger comes to the rim, how sharp the tag is, and ${view.proud === '' ? 'a cap that stands out by anything up to 4 cm, as it was not said.' : 'how well the camera’s lens is known.'} It takes the cap’s rim to lie flat like the tag; a cap seen from the side is wider than this.</p></details>` : nothing}
    <div class="measure-cap"><span id="cap-label">Cap number <strong id="cap">${view.cap}</strong></span>
      <button type="button" class="button" aria-label="A lower number" ?disabled=${view.cap <= 1} @click=${() => on.cap(view, view.cap - 1)}>${icon('minus')}</button>
      <button type="button" class="button" id="cap-more" aria-label="A higher number" @click=${() => on.cap(view, view.cap + 1)}>${icon('plus')}</button></div>
    <p class="soft">The same cap bears the same number in the next photo: growth is read from that.</p>
    <p><button type="button" class="button button-main button-wide" id="keep-cap" ?disabled=${!tried || view.busy} @click=${() => on.keep(view)}>Keep this width</button></p>
  </section>`;
}

/** @param {View} view */
export function grown(view) {
  if (view.caps.length === 0) return nothing;
  return html`<section class="sheet" aria-labelledby="grown-title">
    <h2 id="grown-title">This flush</h2>
    ${view.growth ? html`<p class="measure-width" id="growth">${growthWords(view.growth)}</p>` : html`<p class="soft">Measure the same caps again in a day or two: then this says how fast they grow.</p>`}
    <div class="wide" tabindex="0" role="group" aria-label="Caps by day"><table class="table"><thead><tr><th scope="col">Day</th><th scope="col">Cap</th><th scope="col">Width</th></tr></thead>
      <tbody>${view.caps.map((cap) => html`<tr><td>${dayName(cap.day)}</td><td>${cap.cap}</td><td>${mm(cap.width_tenths)} <small>${mm(cap.low_tenths)} to ${mm(cap.high_tenths)}</small></td></tr>`)}</tbody></table></div>
  </section>`;
}
