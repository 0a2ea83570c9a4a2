// The pieces of the tank's screen.
// They never call the backend. Invariant: each log says since when it is in, and when to lift it.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { chips, text } from '../components/field.js';
import { icon } from '../components/icons.js';
import { logTicks } from '../components/log-ticks.js';
import { whereFrom } from '../components/where-from.js';
import { wrongAt } from '../flow/form.js';
import { air, airUnit, capital, clockTime, count, dayName, logWeight, logWeightUnit } from '../lib/format.js';
import { LIFT } from '../lib/words-work.js';

/** @import {Reason} from '../api/types.js' */
/** @import {View} from './screen.js' */

/** @type {Partial<Record<Reason, string>>} */
const SHORT = { too_young: 'young', still_resting: 'resting', cold_strain: 'cold strain', totem: 'totem', hericium: 'Hericium', not_laid: 'not laid', caps_out: 'caps out' };

/**
 * @param {View} view
 * @param {{out: (view: View, sure: boolean) => void, changed: () => void}} on
 */
export function inTank(view, on) {
  const { tank, today } = view.shown;
  if (tank.length === 0) {
    return html`<section class="sheet" aria-labelledby="tank-title"><h2 id="tank-title">In the tank</h2>
      <p class="soft" id="tank-empty">Nothing. Tick logs below when you put them in.</p></section>`;
  }
  const logs = tank.map(({ id, tag, day, at, hours, lift }) => ({ id, tag, words: `since ${dayName(day, today)}${at ? `, ${clockTime(at)}` : ', hour not said'}: ${count(hours, 'hour')}.`, mind: `${capital(LIFT[lift])}.` }));
  const n = view.outs.size;
  return html`<section class="sheet group" aria-labelledby="tank-title">
    <h2 id="tank-title">In the tank</h2>
    ${logTicks({ name: 'outs', legend: 'Tick what you lift out', logs, ticked: view.outs, onChange: on.changed })}
    ${more(view, 'out', on)}
    ${whereFrom(view.shown.lift_from)}
    <p class="acts"><button type="button" class="button button-main button-wide" id="lift-out" ?disabled=${view.busy || n === 0} @click=${() => on.out(view, false)}>${icon('up')} ${n === 0 ? 'Lift out' : `Lift out ${count(n, 'log')}`}</button></p>
  </section>`;
}

/** @type {{value: string, label: string}[]} */
const AGO = [{ value: '0', label: 'just now' }, { value: '60', label: '1 hour ago' }, { value: '180', label: '3 hours ago' }, { value: '720', label: '12 hours ago' }, { value: '1440', label: 'a day ago' }];

/**
 * When a load went in or came out, and the weights of its logs; both may be left as they are.
 * @param {View} view
 * @param {'in' | 'out'} part
 * @param {{changed: () => void}} on
 */
function more(view, part, on) {
  const ticked = part === 'in' ? view.ins : view.outs;
  const tags = new Map([...view.shown.tank, ...view.shown.logs].map(({ id, tag }) => [id, tag]));
  return html`<details class="where" id=${`more-${part}`}><summary>When, and weights</summary>
    ${chips({ name: `ago-${part}`, legend: 'When', options: AGO, value: view.ago[part], onPick: (value) => { view.ago[part] = value; on.changed(); } })}
    ${ticked.size === 0 ? html`<p class="soft">Tick logs to type their weights.</p>` : html`<div class="two">${[...ticked].map((id) => text({
    name: `g-${part}-${id}`, label: `Log ${tags.get(id) ?? ''}`, unit: logWeightUnit(), value: view.weights.get(id) ?? '', keys: 'decimal', wrong: wrongAt(view.wrong, `g-${part}-${id}`), onInput: (value) => { view.weights.set(id, value); },
  }))}</div>`}
  </details>`;
}

/** Once a screen: short, and where it can hurt. */
export function cautions() {
  return html`<p class="mind" id="tank-caution">Cover the tank where children can reach it: a child drowns in a hand’s depth. Wet logs are heavy and slip: lift with two, close to the body, and not alone.</p>`;
}

/**
 * @param {View} view
 * @param {{in: (view: View, sure: boolean) => void, changed: () => void, typed: (view: View, value: string) => void, all: (view: View) => void}} on
 */
export function putIn(view, on) {
  const { logs, air_dc: warm, low_dc: low, rest_from: rest, age_from: age, cooler_from: cooler } = view.shown;
  const free = logs.filter(({ asks }) => asks.length === 0);
  const shown = view.all ? logs : free;
  const lines = shown.map(({ id, tag, spot, asks, about_g: about }) => ({
    id, tag, words: [spot ?? '', about === null ? '' : `about ${logWeight(about)} fresh`].filter(Boolean).join(' · '), mind: asks.map((why) => SHORT[why] ?? why).join(', '),
  }));
  const n = view.ins.size;
  return html`<section class="sheet group" aria-labelledby="in-title">
    <h2 id="in-title">Put in</h2>
    ${low !== null && low <= 0 ? html`<p class="mind">Frost tonight, down to ${air(low)}: soak nothing, and empty the tank.</p>` : nothing}
    ${lines.length === 0 ? html`<p class="soft">${logs.length === 0 ? 'No log could go in.' : 'No log is rested and old enough today.'}</p>`
    : logTicks({ name: 'ins', legend: view.all ? 'All logs; what speaks against one is said' : 'Rested and old enough', logs: lines, ticked: view.ins, onChange: on.changed })}
    ${logs.length > free.length ? html`<p class="acts"><button type="button" class="button" id="all-logs" @click=${() => on.all(view)}>${view.all ? 'Only the rested' : `Show the other ${logs.length - free.length}`}</button></p>` : nothing}
    ${text({ name: 'water_dc', label: 'Water', unit: airUnit(), value: view.water, keys: 'decimal', hint: `Clean, and clearly cooler than the air${warm === null ? '' : ` (today up to ${air(warm)})`}. Empty: not measured.`, wrong: wrongAt(view.wrong, 'water_dc'), onInput: (value) => on.typed(view, value) })}
    ${more(view, 'in', on)}
    ${whereFrom(cooler)}
    <p class="acts"><button type="button" class="button button-main button-wide" id="put-in" ?disabled=${view.busy || n === 0} @click=${() => on.in(view, false)}>${icon('down')} ${n === 0 ? 'Put in' : `Put in ${count(n, 'log')}`}</button></p>
    ${whereFrom(age)}${whereFrom(rest)}
  </section>`;
}
