// Pests and competitors, drawn: what grows or sits on a log, by its shape.
// They never stand without their word. Invariant: shapes tell them apart without colour.

import { html, svg } from '../vendor/lit-html/lit-html.js';

/** @import {Sighted} from '../api/types.js' */
/** @import {SVGTemplateResult} from '../vendor/lit-html/lit-html.js' */

const LOG = svg`<path class="draw-bark" d="M3 40q6-3 12 0t12 0 12 0 6 0M7 44h8M22 44h10M37 44h6"/>`;

/** @type {Record<Sighted, SVGTemplateResult>} */
const DRAWN = {
  slugs: svg`${LOG}<path class="draw-cap" d="M7 38c2-5 9-10 18-9 6 .6 9 3 14 2 2-4 5-2 4 1-1 4-5 6-9 6z"/><path class="draw-line" d="M40 29l1-6M43 30l3-5M17 33q5-3 10-1"/>`,
  beetles: svg`${LOG}<path class="draw-cap" d="M16 28c0-12 16-12 16 0s-16 12-16 0z"/><path class="draw-line" d="M24 19v18M16 26l-5-3M16 30l-6 1M32 26l5-3M32 30l6 1M21 19l-3-5M27 19l3-5"/>`,
  springtails: svg`${LOG}<path class="draw-line" d="M10 35q4-3 7 0M10 33l-3-2M20 30q4-3 7 0M20 28l-3-2M31 35q4-3 7 0M31 33l-3-2M17 35l3 2M27 30l3 2M38 35l3 2"/>`,
  mice: svg`${LOG}<path class="draw-cap" d="M12 38c-1-9 6-15 14-14l5-4 2 5c5 2 6 7 7 9-2 3-6 4-11 4z"/><path class="draw-line" d="M12 38c-5 0-6-6-9-5M35 31h.6"/>`,
  squirrels: svg`${LOG}<path class="draw-cap" d="M20 38c-2-6 1-12 7-13 0-5 4-7 7-5l2 4c1 3-2 5-4 5l-1 9z"/><path class="draw-line" d="M20 38c-9 0-12-9-9-15s9-6 8 0c-1 4-4 3-4 6"/>`,
  birds: svg`${LOG}<path class="draw-cap" d="M12 30c3-7 10-8 15-7 1-5 8-6 9-1l5 2-5 2c0 7-6 10-12 9z"/><path class="draw-line" d="M22 35v5M27 35v5M33 21h.5M15 30q6 3 12-1"/>`,
  deer: svg`${LOG}<path class="draw-cap" d="M18 38v-9l-3-5 3-1 3-5c4-2 8 0 8 4l3 2-1 4-5 1v9z"/><path class="draw-line" d="M20 18l-4-6M18 14l-4 1M25 17l2-7M26 13l4-1M27 22h.5"/>`,
  trichoderma: svg`${LOG}<path class="draw-white" d="M8 39c-2-7 6-12 11-9 3-6 13-5 14 1 6-1 9 4 7 8z"/><path class="draw-line" d="M13 36h.5M17 34h.5M21 37h.5M24 31h.5M27 35h.5M31 33h.5M35 36h.5M19 31h.5M29 30h.5"/>`,
  crusts: svg`${LOG}<path class="draw-line" d="M8 37c3-5 7-4 9-1s6 2 8-1 7-2 8 1 5 2 7 0"/><path class="draw-cap" d="M11 38c1-4 6-4 7 0zM21 38c1-5 7-5 8 0zM32 38c1-4 6-4 7 0z"/><path class="draw-line" d="M13 36.5h.4M15.5 36h.4M24 35.5h.4M26 36.5h.4M35 36.5h.4"/>`,
  stereum: svg`${LOG}<path class="draw-cap" d="M8 30q4-5 8 0t8 0 8 0 8 0l-2 4q-4 3-8 1t-8 1-8-1-6-1zM10 22q4-4 8 0t8 0 8 0l-2 3q-4 2-8 1t-8 0-6-1z"/>`,
  trametes: svg`${LOG}<path class="draw-cap" d="M5 34c2-12 36-12 38 0z"/><path class="draw-line" d="M10 33c2-8 26-8 28 0M15 33c2-5 16-5 18 0M20 33c1-2 7-2 8 0"/>`,
  schizophyllum: svg`${LOG}<path class="draw-white" d="M24 38C10 36 8 22 14 18c2 3 5 0 6-2 2 3 6 3 8 0 1 2 4 5 6 2 6 4 4 18-10 20z"/><path class="draw-line" d="M24 37L14 21M24 37l-4-19M24 37V18M24 37l4-19M24 37l10-16"/>`,
  other_fungus: svg`${LOG}<path class="draw-cap" d="M14 28c0-13 20-13 20 0z"/><path class="draw-stem" d="M21 28h6l-.5 12h-5z"/><path class="draw-line" d="M22.5 19.5c0-3 4-3 4-.5s-2 1.500-2 3.500M24.500 25h.1"/>`,
};

/** @param {Sighted} what */
export function sightedDrawing(what) {
  return html`<svg class="stage-drawing" viewBox="0 0 48 48" aria-hidden="true" focusable="false">${DRAWN[what]}</svg>`;
}
