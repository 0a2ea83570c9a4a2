// The pieces of the Chores screen.
// They never call the backend. Invariant: each line says its reason and has one tap to do it.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { repeat } from '../vendor/lit-html/directives/repeat.js';
import { icon } from '../components/icons.js';
import { tagLabel, whatItIs } from '../components/log-line.js';
import { endgrain } from '../components/endgrain.js';
import { stageDrawing } from '../components/stages.js';
import { capital, clockTime, count, dayName, minutes, when } from '../lib/format.js';
import { deviceName } from '../lib/jobs.js';
import { link } from '../lib/router.js';
import { capsAt, sentence } from '../lib/words.js';
import { slugWeather } from '../rounds/parts.js';

/** @import {ActRow, LogRow, RoundDue, RoundRow, Tonight} from '../api/types.js' */
/** @import {Unfinished, View} from './screen.js' */

export function firstLog() {
  return html`<section class="sheet first">
    <h2>An empty yard</h2>
    <p>Shadeyard keeps the record of your logs: what each one is, when it pins, what you pick, what the slugs got.</p>
    <p>First, give it one log. A tag and a mushroom are enough; the rest can wait.</p>
    <p class="acts"><a class="button button-main button-wide" id="add-log" href=${link('log-new')}>${icon('plus')} Add your first log</a>
    <a class="button button-quiet" id="had-one" href=${link('care')}>I have a backup, an archive or a spreadsheet</a></p>
  </section>`;
}

/**
 * @param {View} view
 * @param {{round: (view: View) => void, pick: (view: View) => void}} on
 */
export function tonight(view, on) {
  const open = tonightsRound(view);
  const picking = view.rounds?.picking ?? null;
  return html`<section class="sheet tonight" aria-labelledby="tonight-title">
    <h2 id="tonight-title">Tonight</h2>
    ${times(view.tonight, view.today, view.evening)}
    <p class="acts"><button type="button" class="button button-main button-wide" id="night-round" ?disabled=${view.busy} @click=${() => on.round(view)}>
      ${icon('moon')} <span>${open ? `Go on with the night round · ${walked(open)}` : 'Night round'}</span>
    </button>
    <button type="button" class="button button-wide" id="picking-round" ?disabled=${view.busy} @click=${() => on.pick(view)}>${icon('basket')} <span>${picking ? `Go on with the picking round · ${walked(picking)}` : 'Picking round'}</span></button>
    <a class="button button-quiet" id="rounds" href=${link('rounds')}>More about rounds</a></p>
    ${view.rounds?.due.length ? html`<ul class="plain due-rounds">${view.rounds.due.map((due) => html`<li data-due=${due.kind}>${dueWords(due)}</li>`)}</ul>` : nothing}
    ${view.rounds ? slugWeather(view.rounds) : nothing}
    ${view.rounds?.baskets.length ? html`<p class="mind" id="baskets-wait"><a href=${link('rounds')}>${view.rounds.baskets.length === 1 ? 'A basket waits' : `${view.rounds.baskets.length} baskets wait`} to be weighed.</a></p>` : nothing}
    ${view.rounds?.pairs.length ? html`<p class="mind" id="baskets-asked"><a href=${link('rounds')}>One basket or two? Two devices filled one with the same logs.</a></p>` : nothing}
    ${view.round && !open ? html`<p>The round of ${dayName(view.round.day, view.today)} was put down at ${walked(view.round)}. Tonight’s ends it. <a class="button" id="earlier-round" href=${link('round', { round: view.round.id })}>Go on with that one</a></p>` : nothing}
  </section>`;
}

/** @param {RoundDue} due */
function dueWords({ kind, logs, why, times }) {
  if (kind === 'picking') return `Picking round due: ${logs === 1 ? '1 log asks' : `${logs} logs ask`} for a look, ${capsAt(/** @type {any} */ (why))} first${times === 2 ? '; twice today, it is warm' : ''}.`;
  return why === 'weather' ? `Night round due: the night suits slugs, and ${logs === 1 ? '1 log has' : `${logs} logs have`} caps.` : `Night round due: ${logs === 1 ? '1 log has' : `${logs} logs have`} caps.`;
}

/**
 * The open round, when it belongs to this evening.
 * @param {View} view
 */
export function tonightsRound(view) {
  return view.round?.day === view.evening ? view.round : null;
}

/** @param {RoundRow} round */
function walked(round) {
  return `${round.done + round.skipped} of ${round.logs}`;
}

/**
 * @param {Tonight} tonight
 * @param {string} today
 * @param {string} evening
 */
function times(tonight, today, evening) {
  if (tonight.why) return html`<p>${noTime(tonight.why)}</p>`;
  return html`${tonight.go ? html`<p class="go-time"><span class="soft">Go out from about</span> <strong>${clockTime(tonight.go)}</strong></p>` : nothing}
    <dl class="times">
      ${tonight.sunset ? html`<div><dt>Sunset</dt><dd>${clockTime(tonight.sunset)}</dd></div>` : nothing}
      ${tonight.dark ? html`<div><dt>Dark</dt><dd>${clockTime(tonight.dark)}</dd></div>` : nothing}
    </dl>
    <details class="where"><summary>Where from</summary>
      <p>Worked out from the sun over ${tonight.place || 'your place'} for the evening of ${dayName(evening, today)}: sunset is when its upper rim goes under, dark when it stands 6° below the horizon. The round is due ${minutes(tonight.after_min)} after dark; a couple of hours is common practice. Your place and the wait are in <a href=${link('settings')}>Settings</a>.</p>
    </details>`;
}

/** @param {NonNullable<Tonight['why']>} why */
function noTime(why) {
  switch (why) {
    case 'no_place': return html`For tonight’s time Shadeyard needs to know where the yard lies. <a class="button" id="set-place" href=${link('settings')}>Set the place</a>`;
    case 'sun_never_sets': return 'The sun does not set there today, so there is no time to give.';
    case 'never_dark': return 'It does not get dark there tonight, so there is no time to give.';
    case 'sun_never_rises': return 'The sun does not rise there today: it is dark all day.';
  }
}

/** @param {View} view */
export function capsOut(view) {
  if (view.total === 0) return nothing;
  return html`<section aria-labelledby="caps-title">
    <h2 id="caps-title">Caps out</h2>
    ${view.caps_out.length === 0
      ? html`<p class="soft">No pins or caps waiting. A look that finds some puts its log here.</p>`
      : html`<ul class="plain caps-list">${repeat(view.caps_out, (row) => row.id, (row) => capsLine(row, view.today))}</ul>
        ${view.caps_out_n > view.caps_out.length ? html`<p class="soft">And ${count(view.caps_out_n - view.caps_out.length, 'log')} more: a picking round walks them all.</p>` : nothing}`}
  </section>`;
}

/**
 * @param {LogRow} row
 * @param {string} today
 */
function capsLine(row, today) {
  const seen = row.last_seen ? `${capital(capsAt(row.last_seen))} seen ${row.last_seen_day ? dayName(row.last_seen_day, today) : ''}, not picked since` : '';
  return html`<li class="caps-line" data-log=${row.id}>
    <a class="caps-what" href=${link('log', { log: row.id })}>
      ${endgrain(row)}
      <span class="log-line-words">${tagLabel(row.tag, row.tag_twice)}<span class="log-line-what">${whatItIs(row)}</span><span class="log-line-state">${seen}</span></span>
      ${row.last_seen ? stageDrawing(row.last_seen) : nothing}
    </a>
    <span class="caps-acts">
      <a class="button" data-act="pick" href=${link('picking', { log: row.id })}>${icon('basket')} Pick<span class="unseen"> log ${row.tag}</span></a>
      <a class="button" data-act="look" href=${link('look', { log: row.id })}>${icon('camera')} Look<span class="unseen"> at log ${row.tag}</span></a>
    </span>
  </li>`;
}

/**
 * @param {View} view
 * @param {{throwAway: (draft: Unfinished) => void}} on
 */
export function unfinished(view, on) {
  if (view.unfinished.length === 0) return nothing;
  return html`<section aria-labelledby="drafts-title">
    <h2 id="drafts-title">Not finished</h2>
    <ul class="plain">${view.unfinished.map((draft) => html`<li class="draft-line" data-draft=${draft.key}>
      <p>You were entering ${draft.words}.</p>
      <p class="acts"><a class="button" data-act="go-on" href=${draft.href}>Go on</a>
      <button type="button" class="button button-quiet" data-act="throw-away" @click=${() => on.throwAway(draft)}>Throw away</button></p>
    </li>`)}</ul>
  </section>`;
}

/**
 * @param {View} view
 * @param {{undo: (act: ActRow) => void}} on
 */
export function lastAct(view, on) {
  const { last } = view;
  if (!last) return nothing;
  return html`<section aria-labelledby="last-title">
    <h2 id="last-title">Last act</h2>
    <div class="last-act">
      <p>${sentence(last.name, last.said)} <span class="soft">${when(last.at, view.today)}${last.mine ? '' : `, ${deviceName(last.device)}`}</span>${last.undone ? html` <span class="soft">Taken back.</span>` : nothing}</p>
      <p class="acts">${last.undoable && !last.undone ? html`<button type="button" class="button" id="undo-last" @click=${() => on.undo(last)}>${icon('undo')} Undo</button>` : nothing}
      <a class="button button-quiet" id="last-acts" href=${link('acts')}>Last acts</a></p>
    </div>
  </section>`;
}
