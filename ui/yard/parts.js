// The pieces of the yard's list: what it is narrowed by, where a log was found, and the ways to other lists.
// They never call the backend. Invariant: what narrows the list is always said beside its count.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { select } from '../components/field.js';
import { icon } from '../components/icons.js';
import { capital, count, dayName, listed } from '../lib/format.js';
import { link } from '../lib/router.js';
import { MUSHROOM, STATE } from '../lib/words.js';

/** @import {Choice, FoundAt} from '../api/types.js' */
/** @import {By, View} from './screen.js' */

/** @type {Record<By, {label: string, none: string, words?: Record<string, string>}>} */
const SAID = {
  wood: { label: 'Wood', none: 'not known' },
  mushroom: { label: 'Mushroom', none: 'not known', words: MUSHROOM },
  strain: { label: 'Strain', none: 'without a name' },
  spot: { label: 'Spot', none: 'no spot' },
  state: { label: 'State', none: '', words: STATE },
};

const CHOICES = /** @type {const} */ ({ wood: 'woods', mushroom: 'mushrooms', strain: 'strains', spot: 'spots', state: 'states' });
const ALL = '*';

/**
 * @param {View} view
 * @param {{narrow: (view: View, by: By, value: string | null) => unknown, all: (view: View) => unknown, open: (view: View, open: boolean) => void}} on
 */
export function narrow(view, on) {
  const set = Object.keys(view.by).length;
  return html`<details class="where narrow" id="narrow" ?open=${view.open} @toggle=${(/** @type {Event} */ e) => on.open(view, /** @type {HTMLDetailsElement} */ (e.target).open)}>
    <summary>Narrow down${set ? ` · ${set} set` : ''}</summary>
    <div class="two">${/** @type {By[]} */ (Object.keys(SAID)).map((by) => select({
      name: `by-${by}`, label: SAID[by].label, value: view.by[by] ?? ALL,
      options: [{ value: ALL, label: 'all' }, ...view.choices[CHOICES[by]].map((choice) => ({ value: choice.value, label: `${named(by, choice)} (${choice.logs})` }))],
      onInput: (value) => on.narrow(view, by, value === ALL ? null : value),
    }))}</div>
    ${set ? html`<p class="acts"><button type="button" class="button" id="all" @click=${() => on.all(view)}>Show all again</button></p>` : nothing}
  </details>`;
}

/**
 * @param {By} by
 * @param {Choice} choice
 */
function named(by, { value, name }) {
  if (value === '') return SAID[by].none;
  return SAID[by].words?.[value] ?? (name || 'not known here');
}

/** @param {View} view */
export function found(view) {
  if (view.total === 0) return 'No logs yet. Add your first one.';
  const asked = view.search.trim();
  const only = /** @type {By[]} */ (Object.keys(view.by)).map((by) => {
    const choice = view.choices[CHOICES[by]].find(({ value }) => value === view.by[by]);
    return choice ? named(by, choice) : 'something no log has';
  });
  const of = only.length ? ` (only ${listed(only)})` : '';
  if (asked === '' && !of) return `${count(view.total, 'log')} in the register.`;
  if (view.found === 0) return asked ? `No log has “${asked}” on its tag or in its notes${of}.` : `No log is like that${of}.`;
  return `${count(view.found, 'log')} of ${view.total}${of}.`;
}

/**
 * Where a log was found, when not by its tag.
 * @param {FoundAt | undefined} at
 * @param {string} today
 */
export function place(at, today) {
  if (!at) return nothing;
  const where = at.what === 'note' ? 'Its note' : at.day ? `Record, ${dayName(at.day, today)}` : 'Record';
  return html`<span class="found-at">${where}: ${pieces(at.words)}</span>`;
}

/** What was asked for stands between U+0002 and U+0003. @param {string} words */
function pieces(words) {
  return words.split('\u0002').map((piece, i) => {
    const [hit, rest = ''] = i === 0 ? ['', piece] : piece.split('\u0003');
    return html`${hit ? html`<mark>${hit}</mark>` : nothing}${rest}`;
  });
}

/** Other ways to look at the yard, near the thumb. @param {View} view */
export function others(view) {
  if (view.total === 0) return nothing;
  return html`<nav class="yard-go" aria-label="The yard otherwise">
    <a class="button" id="map" href=${link('map')}>Map</a><a class="button" id="spots" href=${link('spots')}>Spots</a>
    <a class="button" id="move" href=${link('move')}>Move</a><a class="button" id="lost-tag" href=${link('lost-tag')}>Lost tag</a>
  </nav>`;
}

/** @param {View} view */
export function ways(view) {
  return html`<nav class="sheet yard-ways" aria-label="More about the yard">
    ${view.total === 0 ? way('spots', 'Spots', 'shade, rain, ground; the walking order') : nothing}
    ${way('wood-waiting', 'Wood waiting', 'felled, not laid yet; how long it keeps')}
    ${way('strains', 'Strains and spawn', 'classes, ranges, lots')}
    ${way('woods', 'Woods', 'what each is good for, and your own')}
    ${way('photos', 'Photos', 'all, and those without a log')}
    ${way('pinned', 'Pinned this week', 'on one sheet')}
    ${way('tags', 'Print tags', 'with a code that photos are found by')}
    ${way('logs-new', 'Add many logs alike', 'running tags, each its own size')}
    ${way('bring-in', 'Bring in a spreadsheet', 'logs or pickings')}
  </nav>`;
}

/**
 * @param {'spots' | 'wood-waiting' | 'strains' | 'woods' | 'photos' | 'pinned' | 'tags' | 'logs-new' | 'bring-in'} name
 * @param {string} what
 * @param {string} more
 */
function way(name, what, more) {
  return html`<a class="way-line" id=${name} href=${link(name)}><span><strong>${what}</strong><span class="soft">${capital(more)}</span></span>${icon('more')}</a>`;
}
