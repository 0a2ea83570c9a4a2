// The review's answer as a sentence.
// It never shows a figure but the chance. Invariant: it claims no more than the backend's answer does.

import { capital, count, listed } from '../lib/format.js';
import { MUSHROOM } from '../lib/words.js';
import { BY_GROUP, groupName, measured } from '../lib/words-review.js';

/** @import {Answer, Question, Tied} from '../api/types.js' */

/**
 * @param {Question} q
 * @param {Answer} a
 */
export function answer(q, a) {
  const what = q.mushroom ? ` for ${MUSHROOM[q.mushroom]}` : '';
  const name = groupName(q.by, a.name);
  const one = BY_GROUP[q.by].one;
  const more = a.need ? ` About ${count(a.need, 'more log')} of each of the first two would likely tell.` : '';
  switch (a.kind) {
    case 'no_logs': return 'There are no logs to compare yet.';
    case 'nothing_yet': return `Too early to tell${what}: nothing of this has happened yet.`;
    case 'too_few': return `Too few logs to tell which ${one} ${measured(q.measure).did}${what}. Three of one ${one} are the fewest.`;
    case 'one_group': return `Only ${name} has enough logs to speak of${what}, so there is nothing to compare it with yet.`;
    case 'best': return `${capital(name)} ${measured(q.measure).did}${what}: ${chance(a.chance)} that no other ${one} is better.`;
    case 'close': return `${capital(name)} leads${what}, ${chance(a.chance)}, but it cannot be told apart from ${listed(a.close.map((c) => groupName(q.by, c)), 'or')}.${more}`;
  }
}

/** A probability in words that promise no more than they hold. @param {number | null} p */
export function chance(p) {
  if (p === null) return 'not known';
  const pct = Math.round(p * 100);
  if (pct >= 99) return 'more than 98\u00a0% sure';
  if (pct <= 1) return 'less than 2\u00a0% sure';
  return `${pct}\u00a0% sure`;
}

/**
 * What to lay next, going by the answer; empty where it says nothing of wood.
 * @param {Question} q
 * @param {Answer} a
 */
export function layWords(q, a) {
  if (q.by !== 'wood' || !a.name) return '';
  if (a.kind === 'best') return `To lay next: ${a.name}.`;
  if (a.kind === 'close') return `To lay next: ${listed([a.name, ...a.close.slice(0, 2)], 'or')}; three or more of each, so that they can be told apart.`;
  return '';
}

/**
 * @param {Question} q
 * @param {Tied} tied
 */
export function tiedWords(q, tied) {
  const groups = listed(tied.groups.map((g) => groupName(q.by, g)));
  const only = listed(tied.only.map((o) => groupName(tied.with, o)));
  return `All your ${groups} ${q.by === 'wood' || q.by === 'strain' ? 'logs have' : 'have'} ${BY_GROUP[tied.with].one} ${only}, and no other ${BY_GROUP[q.by].one} has: ${BY_GROUP[q.by].one} and ${BY_GROUP[tied.with].one} cannot be told apart there.`;
}
