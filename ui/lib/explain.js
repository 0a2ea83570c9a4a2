// The only place where an error becomes words: what happened, what is safe, what to do.
// It never hides an error. Invariant: every refusal gets three sentences a grower can act on.

import { bytes, cm } from './format.js';
import { fieldName } from './words.js';

/** @import {Refused} from '../api/call.js' */

/** @typedef {{what: string, safe: string, todo: string, field: string | null}} Explained */

const TYPED = 'Nothing you typed is gone.';
/** What a field is counted in, where not in letters. @type {Record<string, string>} */
const LIMITS = { photos: 'photos', d_mm: 'measures' };
const RECORDS = 'Your records are as they were.';

/**
 * @param {Refused} refused
 * @returns {Explained}
 */
export function explain(refused) {
  const { code, field } = refused;
  const detail = refused.detail ?? {};
  switch (code) {
    case 'invalid': return { ...invalid(field, detail), field };
    case 'missing': return { what: `This ${fieldName(field ?? 'log')} is not in the register.`, safe: RECORDS, todo: 'It may have been taken back. Go back and choose again.', field };
    case 'conflict': return { ...conflict(detail), field };
    case 'too_new': return { what: 'This register was written by a newer Shadeyard.', safe: 'It was opened to read only; nothing in it was changed.', todo: 'Install the newer Shadeyard to go on writing.', field };
    case 'damaged': return { what: 'A part of the register cannot be read.', safe: 'The damaged file was kept, nothing was deleted.', todo: 'Copy the whole yard folder somewhere safe before anything else, then check the register in Settings.', field };
    case 'disk_full': return { what: 'The disk is full, so this was not written.', safe: `${RECORDS} ${TYPED}`, todo: 'Free some space, then press the button again.', field };
    default: return { what: `Something in Shadeyard itself went wrong (${refused.message}).`, safe: RECORDS, todo: 'Try once more. If it stays, close Shadeyard and open it again.', field };
  }
}

/**
 * The whole explanation as one text.
 * @param {Refused} refused
 */
export function inOneText(refused) {
  const { what, safe, todo } = explain(refused);
  return `${what} ${safe} ${todo}`;
}

/**
 * @param {string | null} field
 * @param {Record<string, any>} detail
 * @returns {{what: string, safe: string, todo: string}}
 */
function invalid(field, detail) {
  const name = fieldName(field ?? 'this');
  if (field === 'request') return { what: 'The register was asked for something it does not know.', safe: RECORDS, todo: 'Go back and choose again.' };
  const safe = `${TYPED} Nothing was written yet.`;
  switch (detail.why) {
    case 'empty': return { what: `The ${name} is empty.`, safe, todo: `Fill in the ${name}.` };
    case 'range': return { what: `The ${name} is out of range.`, safe, todo: `It goes from ${measure(detail.min, detail.unit)} to ${measure(detail.max, detail.unit)}.` };
    case 'order': return { what: `“${name}” lies before “${fieldName(detail.other)}”.`, safe, todo: 'Change one of the two.' };
    case 'future': return { what: `“${name}” lies in the future.`, safe, todo: 'Only what has happened goes into the register: write today or an earlier day.' };
    case 'not_a_date': return { what: `“${name}” is not a date.`, safe, todo: 'Choose the day, the month, the season or the year.' };
    case 'unknown_word': return { what: `“${detail.word}” is not known as ${name}.`, safe, todo: 'Choose from the list.' };
    case 'too_long': return { what: `There is too much in “${name}”.`, safe, todo: `It holds ${detail.max} ${LIMITS[field ?? ''] ?? 'letters'} at most.` };
    case 'number': return { what: `The ${name} is not a number.`, safe, todo: 'Write digits only.' };
    default: return picture(detail) ?? { what: `The ${name} does not fit.`, safe, todo: 'Look at it once more.' };
  }
}

/**
 * @param {Record<string, any>} detail
 * @returns {{what: string, safe: string, todo: string} | null}
 */
function picture(detail) {
  const safe = 'Nothing was added, and the file is where it was.';
  switch (detail.why) {
    case 'not_an_image': return { what: 'This file is not a picture that can be read.', safe, todo: 'Choose a JPEG, PNG or WebP picture.' };
    case 'heic': return { what: 'This picture is in the HEIC format, which cannot be read here.', safe, todo: 'Set the camera to “most compatible” (JPEG), or save it as JPEG first.' };
    case 'cut_short': return { what: 'This picture is cut short.', safe, todo: 'Take it again, or choose another.' };
    case 'empty_file': return { what: 'This file is empty.', safe, todo: 'Take the picture again, or choose another.' };
    case 'too_big_bytes': return { what: `This picture is larger than ${bytes(detail.max_bytes)}.`, safe, todo: 'Set the camera to a smaller size, or choose another.' };
    case 'too_big_pixels': return { what: `This picture has too many points (${detail.width} × ${detail.height}).`, safe, todo: 'Set the camera to a smaller size, or choose another.' };
    default: return null;
  }
}

/**
 * @param {Record<string, any>} detail
 * @returns {{what: string, safe: string, todo: string}}
 */
function conflict(detail) {
  switch (detail.why) {
    case 'locked': return { what: 'Another window holds this yard open.', safe: RECORDS, todo: 'Close the other Shadeyard, then open this one again.' };
    case 'round_ended': return { what: 'This night round has ended.', safe: 'What was ticked off is kept.', todo: 'Start a new round from Chores.' };
    case 'round_open': return { what: 'A night round of this evening is open already.', safe: 'What was ticked off is kept.', todo: 'Go on with it from Chores.' };
    case 'undone_already': return { what: 'This was taken back already.', safe: RECORDS, todo: 'There is nothing more to do.' };
    case 'nothing_changed': return { what: 'Nothing was changed in this log, so there is nothing to save.', safe: RECORDS, todo: 'Change what is wrong, or go back.' };
    case 'ended_already': return { what: 'This log has ended already.', safe: RECORDS, todo: 'Its page shows when and why.' };
    case 'log_gone': return { what: 'This log has ended or was taken back.', safe: RECORDS, todo: 'Go back to the yard and choose another.' };
    default: return { what: 'This does not fit what is in the register now.', safe: RECORDS, todo: 'Go back, look at it as it is now, and try again.' };
  }
}

/**
 * @param {number} n
 * @param {string} unit
 */
function measure(n, unit) {
  if (unit === 'mm') return `${cm(n)} cm`;
  return unit ? `${n} ${unit}` : String(n);
}
