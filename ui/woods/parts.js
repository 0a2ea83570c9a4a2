// One wood's figures, each with its mark.
// It never calls the backend. Invariant: a figure nobody has is said as not known.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { figure } from '../lib/format.js';
import { MARK } from '../lib/words-where.js';
import { WOOD_NOTE, rating } from '../lib/words-life.js';

/** @import {WoodLine} from '../api/types.js' */

/** @param {WoodLine} wood */
export function facts(wood) {
  const forest = wood.fia_spcd === null ? 'yours' : `USDA Forest Service REF_SPECIES, species ${wood.fia_spcd}`;
  /** @type {[string, string, string][]} */
  const lines = [
    ['Scientific', wood.scientific || 'not known', ''],
    ['Shiitake', rating(wood.shiitake), `${MARK[wood.mark]}${wood.source ? `: ${wood.source}` : ''}`],
    ['Hericium', rating(wood.hericium), ''],
    ['Fresh weight', wood.density_kg_m3 === null ? 'not known' : `${figure(wood.density_kg_m3)} kg/m³`, wood.density_kg_m3 === null ? '' : `${wood.own ? 'Your own' : 'Worked out from published figures'}: ${forest}${wood.own ? '' : '; 1000 · gravity · (1 + moisture), Wood Handbook chapter 4'}`],
    ['Fresh moisture', wood.moisture_pct === null ? 'not known' : `${figure(wood.moisture_pct)} % of its fresh weight`, wood.moisture_pct === null || wood.own ? '' : `Published: ${forest}; without bark`],
    ['Bears for', `${wood.life.from} to ${wood.life.to} years`, wood.note === 'short_life' ? 'Our own choice: the lower half of the published 3 to 6 years, as it is called short-lived' : 'Published: university extension guides; big logs up to ten years (common practice)'],
  ];
  return html`<dl class="facts">${lines.map(([name, value, from]) => html`<div><dt>${name}</dt><dd>${value}${from ? html`<small class="from">${from}.</small>` : nothing}</dd></div>`)}</dl>
    ${wood.note ? html`<p class="mind">${WOOD_NOTE[wood.note]}</p>` : nothing}
    ${wood.own?.note ? html`<p class="note">${wood.own.note}</p>` : nothing}`;
}
