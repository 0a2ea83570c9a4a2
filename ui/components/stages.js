// The stages of a fruiting, drawn: caps on bark for shiitake, hanging spines for Hericium.
// They never stand without their word. Invariant: shapes tell the stages apart without colour.

import { html, svg } from '../vendor/lit-html/lit-html.js';

/** @import {Stage} from '../api/types.js' */
/** @import {SVGTemplateResult} from '../vendor/lit-html/lit-html.js' */

const BARK = svg`<path class="draw-bark" d="M2 43q5.5-2.5 11 0t11 0 11 0 11 0M8 46.5h7M22 46.5h9M37 46.5h5"/>`;

/** @param {string} cap @param {string} stem @param {string} [more] */
function cap(cap, stem, more = '') {
  return svg`${BARK}<path class="draw-stem" d=${stem} /><path class="draw-cap" d=${cap} /><path class="draw-line" d=${more} />`;
}

const BODY = 'M13 20c-2-8 5-12 11-12s13 4 11 12c-1 4-4 6-11 6s-10-2-11-6z';

/** @type {Record<Stage, SVGTemplateResult>} */
const DRAWN = {
  nothing: svg`${BARK}<path class="draw-line" d="M12 36q3-4 6 0M28 37q3-3 6 0"/>`,
  pin: svg`${BARK}<path class="draw-cap" d="M10 42c0-6 6-6 6 0zM20 42c0-8 8-8 8 0zM33 42c0-5 5-5 5 0z"/>`,
  button: cap('M14 27c-2-14 22-14 20 0 0 5-5 5-10 5s-10 0-10-5z', 'M20 31h8l-.5 11.5h-7z', 'M19 21q2-4 6-4'),
  cupped: cap('M9 28C8 10 40 10 39 28c0 6-4 6-5 1.5-4-2-16-2-20 0C13 34 9 34 9 28z', 'M20.5 28.5h7l-.5 14h-6z', 'M15 23q2-6 8-7'),
  opening: cap('M6 25C8 12 40 12 42 25c.6 3.5-2.5 5-4.5 2.5-6-2-21-2-27 0C8.5 30 5.4 28.5 6 25z', 'M21 27h6l-.5 15.5h-5z', 'M13 22q3-4 8-5'),
  flat: cap('M3 23c5-6 37-6 42 0 .5 2.5-1.5 3-3.5 3h-35C4.5 26 2.5 25.5 3 23z', 'M21 26h6l-.5 16.5h-5z', 'M12 29.5h4M32 29.5h4M18 30h12'),
  upturned: cap('M3 14c4 6 14 5 21 5s17 1 21-5c1 8-11 14-21 14S2 22 3 14z', 'M21 27.5h6l-.5 15h-5z', 'M9 23l4 3M15 24.5l2 3M39 23l-4 3M33 24.5l-2 3'),
  knob: svg`${BARK}<path class="draw-white" d="M17 42c-3-7 2-11 7-11s10 4 7 11z"/><path class="draw-line" d="M20.5 36v1M24 34.5v1M27.5 36v1M24 39v1"/>`,
  short_spines: svg`${BARK}<path class="draw-white" d=${BODY} /><path class="draw-line" d="M15 25v5M18 26v5M21 26.5v5M24 26.5v6M27 26.5v5M30 26v5M33 25v5"/>`,
  long_spines: svg`${BARK}<path class="draw-white" d=${BODY} /><path class="draw-line" d="M14.5 24v11M17.5 26v12M20.5 26.5v13M24 26.5v14M27.5 26.5v13M30.5 26v12M33.5 24v11"/>`,
  yellowing: svg`${BARK}<path class="draw-yellow" d=${BODY} /><path class="draw-line" d="M14.5 24q-2 5-1 10M17.5 26q-2 6-1 11M21 26.5q-1 6 0 12M24 26.5v13M27 26.5q1 6 0 12M30.5 26q2 6 1 11M33.5 24q2 5 1 10M18 14l3 3M25 12l3 3M22 20l3 2M30 17l2 3"/>`,
};

/** @param {Stage} stage */
export function stageDrawing(stage) {
  return html`<svg class="stage-drawing" viewBox="0 0 48 48" aria-hidden="true" focusable="false">${DRAWN[stage]}</svg>`;
}
