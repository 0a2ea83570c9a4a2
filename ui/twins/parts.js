// One question about twins, with its answers.
// It never calls the backend. Invariant: of two, each can be the one that stays; of more, one at a time is taken out.

import { html } from '../vendor/lit-html/lit-html.js';
import { tagLabel } from '../components/log-line.js';
import { twinQuestion, weighed } from '../lib/apart.js';
import { clockTime, count } from '../lib/format.js';
import { deviceName } from '../lib/jobs.js';
import { link } from '../lib/router.js';

/** @import {Twin, Twins} from '../api/types.js' */
/** @import {View} from './screen.js' */

/** @typedef {{several: (view: View, twins: Twins) => void, one: (view: View, keep: Twin, gone: Twin) => void}} On */

/**
 * @param {Twins} twins
 * @param {View} view
 * @param {On} on
 */
export function question(twins, view, on) {
  const { entries } = twins;
  return html`<section class="sheet twins" aria-label=${`Log ${twins.tag}`} data-log=${twins.log}>
    <p><a class="twins-tag" href=${link('log', { log: twins.log })}>${tagLabel(twins.tag)}<span class="unseen"> to this log’s page</span></a></p>
    <p class="twins-ask">${twinQuestion(twins)}</p>
    <ul class="plain twins-entries">${entries.map((twin) => html`<li><strong>${weighed(twin)}</strong>${twin.caps === null || twin.grams === null ? '' : `, ${count(twin.caps, 'cap')}`} <span class="soft">entered on ${twin.mine ? 'this device' : deviceName(twin.device)} at ${clockTime(twin.at)}</span></li>`)}</ul>
    <div class="twins-answers">
      ${entries.length === 2 ? entries.map((twin, i) => html`<button type="button" class="button" data-keep=${twin.id} ?disabled=${view.busy} @click=${() => on.one(view, twin, entries[1 - i])}>One: keep ${kept(twin, entries)}</button>`)
        : entries.map((twin) => html`<button type="button" class="button" data-out=${twin.id} ?disabled=${view.busy} @click=${() => on.one(view, other(twin, entries), twin)}>Entered twice: take out ${kept(twin, entries)}</button>`)}
      <button type="button" class="button" data-several ?disabled=${view.busy} @click=${() => on.several(view, twins)}>${entries.length === 2 ? 'Two pickings' : `${entries.length} pickings, each its own`}</button>
    </div>
  </section>`;
}

/** Two of one weight are told apart by who entered them. @param {Twin} twin @param {Twin[]} entries */
function kept(twin, entries) {
  const alike = entries.filter((one) => weighed(one) === weighed(twin)).length > 1;
  return `${weighed(twin)}${alike ? ` of ${twin.mine ? 'this device' : deviceName(twin.device)} at ${clockTime(twin.at)}` : ''}`;
}

/** The picking it repeats: one of another device. @param {Twin} twin @param {Twin[]} entries */
function other(twin, entries) {
  return entries.find((one) => one.device !== twin.device) ?? entries[0];
}
