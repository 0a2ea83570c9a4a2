// The review's answer as a sentence.
// It never shows a figure. Invariant: it claims no more than the backend's answer does.

import { capital, count, listed } from '../lib/format.js';
import { MUSHROOM } from '../lib/words.js';

/** @import {ReviewView} from '../api/types.js' */

/** @param {Pick<ReviewView, 'answer' | 'mushroom'>} review */
export function answer({ answer: a, mushroom }) {
  const what = mushroom ? ` for ${MUSHROOM[mushroom]}` : '';
  const name = capital(a.name ?? 'the wood');
  const more = a.need ? ` About ${count(a.need, 'more log')} of each of the first two would likely tell.` : '';
  switch (a.kind) {
    case 'no_logs': return `There are no logs to compare${what} yet.`;
    case 'none_fruited': return `Too early to tell${what}: no log has given anything yet.`;
    case 'too_few': return `Too few logs to tell which wood did best${what}.${more}`;
    case 'one_wood': return `Only ${(a.name ?? 'one wood').toLowerCase()} has enough logs to speak of${what}, so there is nothing to compare it with yet.${more}`;
    case 'best': return `${name} did best so far${what}, clearly ahead of the others.`;
    case 'close': return `${name} leads so far${what}, but it cannot be told apart from ${listed(a.close, 'or')}.${more}`;
  }
}
