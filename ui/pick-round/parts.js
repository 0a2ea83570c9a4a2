// The card of the picking round, what is typed of a picking, and the end of the round.
// They never write. Invariant: what the wet hand needs lies in the lower half, 64 px or more, 8 px apart.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { endgrain } from '../components/endgrain.js';
import { chips } from '../components/field.js';
import { icon } from '../components/icons.js';
import { whatItIs } from '../components/log-line.js';
import { pad } from '../components/pad.js';
import { stageDrawing } from '../components/stages.js';
import { whereFrom } from '../components/where-from.js';
import { capital, count, dayName, figure, grams } from '../lib/format.js';
import { onceADay } from '../lib/once.js';
import { digitStrip, undoKey } from '../round/parts.js';
import { BY, STAGE, STAGE_HINT, capsAt } from '../lib/words.js';
import { CAUTION, QUALITY } from '../lib/words-rounds.js';

/** @import {By, CuppedForecast, PickDone, PickStop, PickQuality, Stage} from '../api/types.js' */
/** @import {Field, PickCard} from './card.js' */
/** @import {View} from './screen.js' */
/** @typedef {typeof import('./screen.js').on} On */

/** @type {Record<'shiitake' | 'hericium', Stage[]>} */
const STAGES = {
  shiitake: ['pin', 'button', 'cupped', 'opening', 'flat', 'upturned'],
  hericium: ['knob', 'short_spines', 'long_spines', 'yellowing'],
};

const RIPE = new Set(['cupped', 'opening', 'flat', 'upturned', 'long_spines', 'yellowing']);

/**
 * @param {View} view
 * @param {PickCard} now
 * @param {On} on
 */
export function card(view, now, on) {
  const { stop, at, typed } = now;
  const { round, asked } = view.shown;
  const ripe = typed.stage !== null && RIPE.has(typed.stage);
  const wait = view.busy ? 'true' : 'false';
  return html`<div class="card pick-card">
    ${top(view, on, stop.stage ? `${at + 1} of ${asked}` : 'no caps known')}
    <section class="card-log" aria-label="The log">
      <div class="card-words">
        <h1 tabindex="-1"><span class="unseen">Log </span><span id="card-tag" data-log=${stop.log.id}>${stop.log.tag}</span></h1>
        <p class="card-what">${whatItIs(stop.log)}</p>
        <p class="card-spot">${stop.log.spot ?? 'no spot set'}</p>
        <p class="pick-before">${before(stop, round.day)}</p>
        ${stop.stage && stop.forecast ? whereFrom(stop.forecast.from_what) : nothing}
        ${stop.done ? html`<p class="card-check" id="card-check">This round: ${doneWords(stop.done, round.day)}</p>` : nothing}
      </div>
      ${endgrain(stop.log, { spoken: true })}
    </section>
    <section class="card-lower" aria-label="Stage and act">
      <div class="stage-keys" role="radiogroup" aria-label="What do you see?">
        ${(stop.log.mushroom === 'shiitake' ? STAGES.shiitake : STAGES.hericium).map((stage) => html`<button type="button" role="radio" class="key stage-key" data-stage=${stage}
          aria-checked=${typed.stage === stage ? 'true' : 'false'} title=${STAGE_HINT[stage]} @click=${() => on.stage(view, stage)}>${stageDrawing(stage)}<span>${capital(STAGE[stage])}</span></button>`)}
      </div>
      <p class="pick-hint" role="status">${typed.stage ? STAGE_HINT[typed.stage] : 'Tap what you see.'}${typed.stage === 'flat' || typed.stage === 'upturned' ? ' Spores irritate lungs.' : ''}</p>
      <div class="card-acts pick-acts">
        ${undoKey(view, () => on.undo(view))}
        <button type="button" class="key" id="skip" aria-disabled=${wait} @click=${() => on.skip(view)}>${icon('skip')} Skip</button>
        <button type="button" class=${`key ${ripe ? '' : 'key-main'}`} id="look-again" aria-disabled=${wait} ?disabled=${typed.stage === null} @click=${() => on.look(view)}><span>Leave<small>${again(stop, typed.stage, round.day)}</small></span></button>
        <button type="button" class=${`key ${ripe ? 'key-main' : ''}`} id="pick-now" aria-disabled=${wait} @click=${() => on.picking(view, true)}>${icon('basket')} Pick</button>
      </div>
    </section>
  </div>`;
}

/**
 * @param {View} view
 * @param {On} on
 * @param {string} position
 */
function top(view, on, position) {
  return html`<div class="card-top">
    <button type="button" class="key" id="put-down" @click=${on.putDown}>Put down</button>
    <p class="card-position" id="position">${position}</p>
    <button type="button" class="key" id="previous" ?disabled=${view.busy || view.card?.at === 0} @click=${() => on.previous(view)}>${icon('back')} Back</button>
    ${view.card ? html`<label class="key" for="photo">${icon('camera')}<span>${view.card.typed.photos.length || ''}<span class="unseen">Photo of this log</span></span>
      <input class="unseen" id="photo" name="photo" type="file" accept="image/*" capture="environment" @change=${(/** @type {Event} */ e) => on.photo(view, e)} /></label>` : nothing}
  </div>
  ${view.photoWrong ? html`<p class="wrong" role="alert">${view.photoWrong}</p>` : nothing}
  ${digitStrip((digit) => on.find(view, digit))}`;
}

/** @param {PickStop} stop @param {string} today */
function before({ stage, seen_on, forecast }, today) {
  if (!stage) return 'No pins or caps seen of late.';
  const seen = `${capital(capsAt(stage))} ${seen_on ? dayName(seen_on, today) : ''}`;
  return forecast ? `${seen}. Cupped ${range(forecast, today)}.` : `${seen}.`;
}

/** A forecast is always a range. @param {CuppedForecast} forecast @param {string} today */
export function range({ from, to, own, grown_mm_a_day: grown }, today) {
  const days = from === to ? dayName(from, today) : `${dayName(from, today)} to ${dayName(to, today)}`;
  return `likely ${days} (${[own ? `this yard, ${own} followed` : grown === null ? 'common practice' : '', grown === null ? '' : `measured, ${figure(grown)} mm a day`].filter(Boolean).join('; ')})`;
}

/** @param {PickStop} stop @param {Stage | null} stage @param {string} today */
function again({ forecast, stage: before }, stage, today) {
  if (stage && RIPE.has(stage)) return 'it is ripe';
  if (forecast && before === stage && forecast.look_on > today) return `look again ${dayName(forecast.look_on, today)}${forecast.looks_a_day === 2 ? ', twice a day' : ''}`;
  return 'and look again';
}

/** @param {PickDone} done @param {string} today */
export function doneWords(done, today) {
  if (done.skipped) return 'skipped';
  if (done.pickings === 0) return `${done.seen ? capsAt(done.seen) : 'looked at'}${done.again ? `, look again ${dayName(done.again, today)}` : ''}`;
  const weight = done.in_basket ? 'in the basket' : done.unweighed && !done.grams ? 'not weighed' : grams(done.grams);
  return `picked, ${weight}${done.caps ? `, ${count(done.caps, 'cap')}` : ''}`;
}

/**
 * What is typed of a picking.
 * @param {View} view
 * @param {PickCard} now
 * @param {On} on
 */
export function picked(view, now, on) {
  const { typed, stop } = now;
  const wait = view.busy ? 'true' : 'false';
  const hurt = /[1-9]/.test(typed.damaged);
  /** @type {{value: By | '', label: string}[]} */
  const by = [{ value: '', label: 'not known' }, ...view.shown.by.map((b) => ({ value: b, label: BY[b] }))];
  const quality = /** @type {{value: PickQuality, label: string}[]} */ (Object.entries(QUALITY).map(([value, label]) => ({ value, label })));
  return html`<div class="card pick-pad">
    <h1 tabindex="-1">Log ${stop.log.tag}: picked</h1>
    <p class="card-caution" id="caution">Brush, don’t wash.${onceADay(localStorage, 'picking', view.shown.round.day, typed.request) ? ` ${CAUTION.look_alike}` : ''}</p>
    ${chips({ name: 'quality', legend: 'Quality', options: quality, value: typed.quality || null, look: 'chips-damage', onPick: (value) => on.typed(view, { quality: value }) })}
    ${hurt ? chips({ name: 'by', legend: 'Damaged by', options: by, value: typed.by, look: 'chips-by', onPick: (value) => on.typed(view, { by: value }) }) : nothing}
    <section class="card-lower" aria-label="Caps, weight and damage">
      ${pad({
        fields: [{ name: 'caps', label: 'Caps', value: typed.caps }, { name: 'grams', label: 'Weight', unit: 'g', value: typed.grams }, { name: 'damaged', label: 'Damaged', unit: '%', value: typed.damaged }],
        at: typed.field,
        onField: (name) => on.field(view, /** @type {Field} */ (name)),
        onType: (name, value) => on.typed(view, { [name]: value }),
      })}
      <div class="card-acts">
        <button type="button" class="key" id="pick-back" @click=${() => on.picking(view, false)}>${icon('back')} Back</button>
        <button type="button" class=${`key ${typed.grams === '' ? 'key-main' : ''}`} id="into-basket" aria-disabled=${wait} ?disabled=${typed.grams !== ''} @click=${() => on.take(view, true)}>${icon('basket')} <span>Basket<small>weigh in the kitchen</small></span></button>
        <button type="button" class=${`key ${typed.grams === '' ? '' : 'key-main'}`} id="pick-save" aria-disabled=${wait} @click=${() => on.take(view, false)}>${icon('tick')} <span>Save<small>${typed.grams === '' ? 'not weighed' : grams(Number(typed.grams))}</small></span></button>
      </div>
    </section>
  </div>`;
}

/**
 * No log with caps is left: the round can be ended, or any other log reached by its digits.
 * @param {View} view
 * @param {On} on
 */
export function finished(view, on) {
  const { round, asked, baskets } = view.shown;
  const open = baskets.find(({ grams: weight }) => weight === null);
  return html`<div class="card">
    ${top(view, on, 'the end')}
    <section class="card-log card-done">
      <div class="card-words">
        <h1 tabindex="-1">${asked === 0 ? 'No caps known' : 'No log with caps left'}</h1>
        <p>${asked === 0 ? 'No look has found pins or caps of late. Any log is two taps away by its digits.' : `${count(round.done, 'log')} seen${round.skipped ? `, ${round.skipped} skipped` : ''}. Other logs are two taps away by their digits.`}</p>
        ${open ? html`<p>The basket with ${count(open.pickings.length, 'picking')} stays open until it is weighed.</p>` : nothing}
      </div>
    </section>
    <section class="card-lower" aria-label="End of the round">
      ${undoKey(view, () => on.undo(view))}
      <button type="button" class="key key-main key-wide" id="end-round" ?disabled=${view.busy} @click=${() => on.end(view)}>${icon('tick')} End the round</button>
    </section>
  </div>`;
}
