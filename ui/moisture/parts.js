// The pieces of a log's moisture page.
// They never compute moisture. Invariant: an estimate is called one, and a figure carries where it comes from.

import { html, nothing, svg } from '../vendor/lit-html/lit-html.js';
import { whereFrom } from '../components/where-from.js';
import { count, dayName, daysAgo, figure, grams, logWeight } from '../lib/format.js';

/** @import {Band, Moisture} from '../api/types.js' */
/** @import {View} from './screen.js' */

/** @type {Record<Band, string>} */
const BAND = {
  dies: 'below 23 %: spawn dies. Water it now.', low: 'below 30 %: too dry for the spawn.', fair: 'good (30–35 %, University of Kentucky FOR-83).', ideal: 'ideal (35 % and more, University of Kentucky FOR-82).',
};

/** @param {View} view */
export function wetness({ shown }) {
  const { moisture: m } = shown;
  if (m) return inSpawnRun(m);
  if (shown.spawn_run) {
    return html`<section class="sheet"><p id="not-weighed">Not weighed yet. Its first weight tells how wet it is from then on; weigh the same few logs of a batch each week in dry weather.</p>
      ${shown.about_g === null ? nothing : html`<p>Fresh, it would weigh about <strong>${logWeight(shown.about_g)}</strong>.</p>`}${shown.about_from ? whereFrom(shown.about_from) : nothing}</section>`;
  }
  const below = shown.below_soaked_pct;
  return html`<section class="sheet">
    <p id="after-run">Its spawn run is over. Wood is eaten and loses dry weight, so no moisture is worked out from here on; its weight is held against its own after the last soak.</p>
    ${below === null ? html`<p class="soft">Not weighed at its last soak, or not since.</p>` : html`<p class="wet-figure">${below < 0 ? 'no lighter' : `${figure(below)} % lighter`}</p><p>than the ${grams(shown.soaked_grams)} it weighed when it came out of the tank.</p>`}
  </section>`;
}

/** @param {Moisture} m */
function inSpawnRun(m) {
  return html`<section class="sheet" id="wetness">
    ${m.pct === null ? html`<p>How wet it is cannot be told without a sample disc or a known wood. Its weight can.</p>` : html`<p class="wet-figure">${m.basis === 'disc' ? '' : 'about '}${figure(m.pct)} %</p>
      <p>water of its weight${m.basis === 'published' ? ', an estimate from published moisture of fresh wood' : ''}: ${m.band ? BAND[m.band] : ''}</p>`}
    <p>${m.below_first_pct <= 0 ? 'Not lighter than when it was weighed first.' : `${figure(m.below_first_pct)} % lighter than when it was weighed first.`} ${m.water ? html`<strong>It wants water.</strong>` : ''}</p>
    <dl class="facts">
      <div><dt>Water below</dt><dd>${logWeight(m.line_g)}, 10 % under its first weight</dd></div>
      ${m.ideal_g === null ? nothing : html`<div><dt>At 35 %</dt><dd>${logWeight(m.ideal_g)}</dd></div>`}
      ${m.dies_g === null ? nothing : html`<div><dt>At 23 %</dt><dd>${logWeight(m.dies_g)}</dd></div>`}
    </dl>
    ${m.felled_dry ? html`<p class="soft">This wood holds less than 35 % on the day it is felled. That alone is no cause for alarm.</p>` : nothing}
    ${whereFrom(m.from)}
  </section>`;
}

/** @param {View} view */
export function trend({ shown }) {
  const all = shown.weighings;
  if (all.length === 0) return nothing;
  return html`<section aria-labelledby="trend-title"><h2 id="trend-title">Weighings</h2>
    ${all.length > 1 ? drawing(all, shown.moisture?.line_g ?? null) : nothing}
    <table class="table"><thead><tr><th scope="col">Day</th><th scope="col">Weight</th></tr></thead>
      <tbody>${[...all].reverse().map(({ day, grams: g }) => html`<tr><th scope="row">${dayName(day, shown.today)}</th><td>${logWeight(g)}</td></tr>`)}</tbody></table>
  </section>`;
}

/**
 * @param {{day: string, grams: number}[]} all oldest first
 * @param {number | null} line
 */
function drawing(all, line) {
  const [first, last] = [all[0], all[all.length - 1]];
  const span = Math.max(1, daysAgo(first.day, last.day));
  const weights = [...all.map(({ grams: g }) => g), ...(line === null ? [] : [line])];
  const [low, high] = [Math.min(...weights), Math.max(...weights)];
  const x = (/** @type {string} */ day) => 12 + (daysAgo(first.day, day) / span) * 296;
  const y = (/** @type {number} */ g) => 14 + (1 - (g - low) / Math.max(1, high - low)) * 92;
  const said = `From ${logWeight(first.grams)} on ${dayName(first.day)} to ${logWeight(last.grams)} on ${dayName(last.day)} in ${count(all.length, 'weighing')}${line === null ? '' : `; water below ${logWeight(line)}`}.`;
  return html`<svg class="trend" viewBox="0 0 320 124" role="img" aria-label=${said}>
    ${line === null ? nothing : svg`<line class="trend-mark" x1="12" x2="308" y1=${y(line)} y2=${y(line)} /><text x="12" y=${Math.max(11, y(line) - 4)}>water below ${logWeight(line)}</text>`}
    <polyline class="trend-line" points=${all.map(({ day, grams: g }) => `${x(day).toFixed(1)},${y(g).toFixed(1)}`).join(' ')} />
    ${all.map(({ day, grams: g }) => svg`<circle class="trend-dot" cx=${x(day).toFixed(1)} cy=${y(g).toFixed(1)} r="3.5" />`)}
  </svg>`;
}
