// Line drawings for buttons and bars, our own, in the colour of the text around them.
// They never carry meaning alone. Invariant: each is hidden from screen readers; the words beside it speak.

import { html, svg } from '../vendor/lit-html/lit-html.js';

/** @import {SVGTemplateResult} from '../vendor/lit-html/lit-html.js' */

/** @type {Record<string, SVGTemplateResult>} */
const LINES = {
  chores: svg`<path d="M5 4.5h11l3 3v12H5z"/><path d="M8.5 10l1.6 1.6L13 8.8M8.5 15.6l1.6 1.6 2.9-2.8M15.5 11h1M15.5 16h1"/>`,
  yard: svg`<circle cx="7.5" cy="15.5" r="4.6"/><circle cx="16.6" cy="15.9" r="4.2"/><circle cx="12" cy="7.6" r="4.2"/><circle cx="7.5" cy="15.5" r="1.6"/><circle cx="16.6" cy="15.9" r="1.3"/><circle cx="12" cy="7.6" r="1.3"/>`,
  review: svg`<path d="M4 5.5h6M4 12h13M4 18.5h9"/><circle cx="13" cy="5.5" r="2"/><circle cx="20" cy="12" r="2"/><circle cx="16" cy="18.5" r="2"/>`,
  gear: svg`<circle cx="12" cy="12" r="2.9"/><path d="M10.3 3.2h3.4l.6 2.6 1.7.8 2.3-1.4 2.3 2.4-1.3 2.3.7 1.6 2.5.7v3.2l-2.5.7-.7 1.6 1.3 2.3-2.3 2.4-2.3-1.4-1.7.8-.6 2.6h-3.4l-.6-2.6-1.7-.8-2.3 1.4-2.3-2.4 1.3-2.3-.7-1.6-2.5-.7v-3.2l2.5-.7.7-1.6-1.3-2.3 2.3-2.4 2.3 1.4 1.7-.8z"/>`,
  back: svg`<path d="M14.5 5l-7 7 7 7"/>`,
  close: svg`<path d="M6 6l12 12M18 6L6 18"/>`,
  undo: svg`<path d="M8.5 5L4.5 9l4 4"/><path d="M4.8 9H14a5 5 0 010 10H9"/>`,
  plus: svg`<path d="M12 5v14M5 12h14"/>`,
  minus: svg`<path d="M5 12h14"/>`,
  tick: svg`<path d="M4.5 12.5l5 5L19.5 7"/>`,
  skip: svg`<path d="M5 6l7 6-7 6zM13 6l7 6-7 6z"/>`,
  camera: svg`<path d="M4 8h3.5L9 5.5h6L16.5 8H20v11H4z"/><circle cx="12" cy="13.2" r="3.6"/>`,
  basket: svg`<path d="M4 10h16l-2 9H6z"/><path d="M7.5 10C8 5.5 16 5.5 16.5 10M9 13v3.5M12 13v3.5M15 13v3.5"/>`,
  edit: svg`<path d="M5 19l1-4.5L16 4.5l3.5 3.5L9.5 18z"/><path d="M13.6 7l3.4 3.4"/>`,
  end: svg`<circle cx="12" cy="12" r="7.6"/><path d="M6.8 6.8l10.4 10.4"/>`,
  slug: svg`<path d="M3.5 17.5c3.5.6 10 .8 13 0 3-.9 3.6-4 2.2-5.6-1.3-1.4-3.4-.6-3.6 1-4.4-2.2-8.3-.2-11.6 4.6z"/><path d="M18 11.4l.8-4M20 12.2l2.3-3"/>`,
  moon: svg`<path d="M19 14.5A7.6 7.6 0 119.8 5a6.2 6.2 0 009.2 9.5z"/>`,
  sun: svg`<circle cx="12" cy="12" r="4"/><path d="M12 3v2.5M12 18.5V21M3 12h2.5M18.5 12H21M5.6 5.6l1.8 1.8M16.6 16.6l1.8 1.8M5.6 18.4l1.8-1.8M16.6 7.4l1.8-1.8"/>`,
  find: svg`<circle cx="10.5" cy="10.5" r="5.5"/><path d="M15 15l5 5"/>`,
  up: svg`<path d="M5 15l7-7 7 7"/>`,
  down: svg`<path d="M5 9l7 7 7-7"/>`,
  more: svg`<path d="M9.5 5l7 7-7 7"/>`,
  carry: svg`<path d="M4 15.5h9M9.5 11.5l4 4-4 4"/><circle cx="17" cy="8" r="3.6"/><circle cx="17" cy="8" r="1"/>`,
  hand: svg`<path d="M7 12V6.5a1.4 1.4 0 012.8 0V11V4.8a1.4 1.4 0 012.8 0V11V5.8a1.4 1.4 0 012.8 0V12l.2-2.6a1.4 1.4 0 012.8.2V14c0 3.600-2 6-5.600 6-3 0-4.400-1.200-5.800-3.800L4.300 12.800a1.400 1.400 0 012.300-1.500z"/>`,
  map: svg`<circle cx="6" cy="6.500" r="2.600"/><circle cx="17.500" cy="11" r="2.600"/><circle cx="7.500" cy="18" r="2.600"/><path d="M8.500 7.500l6.500 2.500M15.500 12.700l-5.700 4"/>`,
  tank: svg`<path d="M4 8v11h16V8"/><path d="M4 12c2.7-1.6 5.300-1.600 8 0s5.300 1.600 8 0"/>`,
  scale: svg`<path d="M12 4v3M6 20h12l1.500-10h-15z"/><circle cx="12" cy="15" r="2.600"/>`,
  water: svg`<path d="M12 4c3.500 4.500 5.500 7.200 5.500 10a5.500 5.500 0 01-11 0c0-2.800 2-5.500 5.500-10z"/>`,
  erase: svg`<path d="M9 6h11v12H9l-5.5-6z"/><path d="M12 9.5l5 5M17 9.5l-5 5"/>`,
};

/** @param {string} name */
export function icon(name) {
  return html`<svg class="icon" viewBox="0 0 24 24" aria-hidden="true" focusable="false">${LINES[name]}</svg>`;
}
