// What a night round found: the sums, spot by spot, and each log with slugs or damage.
// It never rounds. Invariant: logs not reached are said as left, not as clean.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { tagLabel } from '../components/log-line.js';
import { count, dayName } from '../lib/format.js';
import { checked } from '../lib/words.js';

/** @import {View} from './screen.js' */

/**
 * @param {View} view
 * @param {{leave: () => void, open: (log: string) => void}} on
 */
export function summary({ shown }, on) {
  const { round, spots } = shown;
  const findings = shown.stops.filter(({ check }) => check && check.how !== 'skipped' && (check.slugs > 0 || check.damage !== 'none'));
  return html`<div class="round-summary">
    <h1 tabindex="-1">Night round of ${dayName(round.day)}</h1>
    <dl class="sums">
      <div><dt>Slugs</dt><dd id="sum-slugs">${round.slugs}</dd></div>
      <div><dt>Logs seen</dt><dd id="sum-done">${round.done} of ${round.logs}</dd></div>
      <div><dt>With damage</dt><dd>${round.damaged}</dd></div>
      <div><dt>Skipped</dt><dd>${round.skipped}</dd></div>
      ${round.left ? html`<div><dt>Not reached</dt><dd>${round.left}</dd></div>` : nothing}
    </dl>
    <h2 id="spots-title">By spot</h2>
    <div class="wide" tabindex="0" role="group" aria-labelledby="spots-title">
    <table class="table">
      <thead><tr><th scope="col">Spot</th><th scope="col">Logs</th><th scope="col">Slugs</th><th scope="col">Damaged</th></tr></thead>
      <tbody>${spots.map((spot) => html`<tr><th scope="row">${spot.spot ?? 'no spot'}</th><td>${spot.logs}${spot.left ? ` (${spot.left} left)` : ''}</td><td>${spot.slugs}</td><td>${spot.damaged}</td></tr>`)}</tbody>
    </table></div>
    <h2>Found on</h2>
    ${findings.length === 0 ? html`<p>No slugs and no damage on ${count(round.done, 'log')} seen.</p>` : html`<ul class="plain findings">${findings.map(({ log, check }) => html`<li>
      <button type="button" class="key key-wide" @click=${() => on.open(log.id)}>${tagLabel(log.tag)} <span>${check ? checked(check) : ''}</span></button>
    </li>`)}</ul>`}
    <button type="button" class="key key-main key-wide" id="round-done" @click=${on.leave}>To the chores</button>
  </div>`;
}
