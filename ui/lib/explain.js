// The only place where an error becomes words: what happened, what is safe, what to do.
// It never hides an error. Invariant: every refusal gets three sentences a grower can act on.

import { bytes, cm, listed } from './format.js';
import { BY, METHOD, MUSHROOM, SPAWN, fieldName, meaningName } from './words.js';

/** @import {Refused} from '../api/call.js' */
/** @import {Closed} from '../api/types.js' */

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
    case 'missing': return { ...missing(field), field };
    case 'conflict': return { ...conflict(detail), field };
    case 'too_new': return { what: 'This register was written by a newer Shadeyard.', safe: 'It was opened to read only; nothing in it was changed.', todo: 'Install the newer Shadeyard to go on writing.', field };
    case 'damaged': return { ...damaged(String(detail.what ?? '')), field };
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
  const special = SPECIAL[field ?? '']?.(detail);
  if (special) return { safe, ...special };
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

/** Fields whose reasons are their own. @type {Record<string, (detail: Record<string, any>) => {what: string, todo: string, safe?: string} | null>} */
const SPECIAL = { text: sheet, base64: sheet, columns, folder };

/** @param {Record<string, any>} detail */
function folder(detail) {
  switch (detail.why) {
    case 'no_folder': return { what: 'There is no such folder.', todo: 'Write its whole path, from the first slash on, and see that the stick or drive is there.' };
    case 'not_a_folder': return { what: 'This is not the whole path of a folder.', todo: 'Write it from the first slash on.' };
    case 'not_writable': return { what: 'Nothing can be written into this folder.', todo: 'Choose another, or see that the stick or drive is there and not locked.' };
    default: return null;
  }
}

/**
 * A spreadsheet as a whole.
 * @param {Record<string, any>} detail
 */
function sheet(detail) {
  const safe = 'Nothing was taken in, and the file is as it was.';
  const again = 'Save it once more from the spreadsheet as CSV, and choose that file.';
  switch (detail.why) {
    case 'empty_file': return { what: 'This file is empty.', safe, todo: again };
    case 'too_big_bytes': return { what: `This file is larger than ${bytes(detail.max_bytes)}.`, safe, todo: 'Split it into several files and bring in one after the other.' };
    case 'not_text': return { what: 'This file is no CSV: it cannot be read as text.', safe, todo: again };
    case 'quotes': return { what: `In row ${detail.row} a quotation mark is opened and never closed, so rows would run into each other.`, safe, todo: 'Mend that row in the spreadsheet, save it as CSV once more, and choose that file.' };
    case 'too_many_rows': return { what: `This file has more than ${detail.max} rows.`, safe, todo: 'Split it into several files and bring in one after the other.' };
    case 'too_many_columns': return { what: `This file has more than ${detail.max} columns.`, safe, todo: 'Leave out the columns that are not needed, and save it once more.' };
    case 'no_rows': return { what: 'Below its headers this file has no row.', safe, todo: 'See that the first row holds the headers, and the rows follow.' };
    case 'rows_refused': return { what: `${detail.bad === 1 ? 'One row' : `${detail.bad} rows`} cannot be taken in as the yard is now.`, safe, todo: 'Try it once more to see which.' };
    default: return null;
  }
}

/** @param {Record<string, any>} detail */
function columns(detail) {
  switch (detail.why) {
    case 'empty': return { what: `No column says the ${meaningName(detail.word)}.`, todo: `Say which column holds the ${meaningName(detail.word)}.` };
    case 'twice': return { what: `One column cannot say both ${meaningName(detail.word)} and ${meaningName(detail.other)}.`, todo: 'Choose another column for one of the two.' };
    default: return { what: `The ${meaningName(detail.word)} does not belong to these rows.`, todo: 'Leave that column out.' };
  }
}

/**
 * Why one cell of a spreadsheet, or one row, was refused.
 * @param {{why: string, detail: Record<string, any>, text: string}} cell
 * @param {string} [meaning] what its column says
 */
export function explainCell({ why, detail, text }, meaning = '') {
  const said = text ? `“${text}”` : 'The cell';
  switch (why) {
    case 'empty': return 'The cell is empty, and this cannot be left out.';
    case 'number': return `${said} is not a number.`;
    case 'whole': return `${said} is not a whole number.`;
    case 'thousands': return `${said} can be read in two ways: is the mark for thousands or for tenths? Write it without one.`;
    case 'not_a_date': return `${said} is not a date in the order chosen.`;
    case 'not_a_day': return `${said} is not one day; a picking needs its day.`;
    case 'two_digit_year': return `${said} has a year of two digits. Write all four.`;
    case 'range': return `${said} is out of range: it goes from ${measure(detail.min, detail.unit)} to ${measure(detail.max, detail.unit)}.`;
    case 'future': return `${said} lies in the future.`;
    case 'order': return `${said} lies before “${fieldName(detail.other)}”.`;
    case 'unknown_word': return `${said} is not known here. ${knownWords(meaning)}`;
    case 'too_long': return `There is too much in this cell: ${detail.max} letters at most.`;
    case 'too_many_cells': return `The row has more cells than the ${detail.max} headers, from ${said} on. A separator too many shifts the rest.`;
    case 'no_log': return `No log in the yard carries the tag ${said}.`;
    case 'several_logs': return `${detail.logs} logs carry the tag ${said}, so it cannot be told which one was picked.`;
    default: return `${said} does not fit.`;
  }
}

/** @param {string} meaning */
function knownWords(meaning) {
  const words = { mushroom: MUSHROOM, strain_class: { cold: 'cold', warm: 'warm', wide: 'wide' }, spawn: SPAWN, method: METHOD, by: BY }[meaning];
  if (words) return `Known are ${listed(Object.values(words))}.`;
  return meaning === 'wood' ? 'Write the wood as the form “Add a log” has it, or leave the cell empty.' : 'Leave the cell empty if it is not known.';
}

/** @param {string | null} field */
function missing(field) {
  switch (field) {
    case 'archive': return { what: 'There is no such file.', safe: RECORDS, todo: 'Write its whole path, from the first slash to the ending, and see that the stick or drive is there.' };
    case 'folder': return { what: 'There is no such folder.', safe: RECORDS, todo: 'Write its whole path, from the first slash on, and see that the stick or drive is there.' };
    case 'backup': return { what: 'This copy is no longer in its folder.', safe: RECORDS, todo: 'Go back to Care and choose another.' };
    default: return { what: `This ${fieldName(field ?? 'log')} is not in the register.`, safe: RECORDS, todo: 'It may have been taken back. Go back and choose again.' };
  }
}

/** @param {string} what */
function damaged(what) {
  if (what.startsWith('archive')) return { what: 'This file is not a whole archive of a yard.', safe: `${RECORDS} Nothing of the file was taken in.`, todo: 'Copy it once more from where it was written, or choose another.' };
  if (/\.sqlite$|^backup/.test(what)) return { what: 'This copy is not whole.', safe: RECORDS, todo: 'Choose another one, the one before it.' };
  if (what === 'photo') return { what: 'This photo is no longer what the camera wrote.', safe: 'Its record is as it was.', todo: 'A backup or the other device may still have it whole: see Care.' };
  return { what: 'A part of the register cannot be read.', safe: 'The damaged file was kept, nothing was deleted.', todo: 'Copy the whole yard folder somewhere safe before anything else, then see Care.' };
}

/**
 * Why the yard can only be read.
 * @param {Closed} closed
 */
export function explainClosed(closed) {
  if (closed === 'newer') {
    return { what: 'A newer Shadeyard wrote this yard, so here it can only be read.', safe: 'Everything is shown as far as it is known here, and nothing of it is changed.', todo: 'To go on writing, open it with the newer Shadeyard. All of it can be written into an archive.' };
  }
  return { what: 'A part of this yard is damaged, so now it can only be read.', safe: 'The file stays as it is: nothing more is written to it, and nothing was deleted.', todo: 'Go back to a backup to go on writing. What can still be read can be written into an archive first.' };
}

/**
 * Why long work could not be done, from the last line it left.
 * @param {string} line
 */
export function failedJob(line) {
  return inOneText(fromLine(line));
}

/**
 * @param {string} line
 * @returns {Refused}
 */
function fromLine(line) {
  const [, kind = '', rest = ''] = /^(damaged: |conflict: |no such |folder: |photo: )(.*)$/.exec(line) ?? [];
  const as = (/** @type {Refused['code']} */ code, /** @type {string | null} */ field, /** @type {Record<string, any>} */ detail) => ({ code, message: line, field, detail });
  if (line === 'no room left') return as('disk_full', null, {});
  if (line.startsWith('register version')) return as('too_new', null, {});
  if (kind === 'damaged: ') return as('damaged', null, { what: rest });
  if (kind === 'conflict: ') return as('conflict', null, { why: rest });
  if (kind === 'no such ') return as('missing', rest, {});
  if (kind) return as('invalid', kind.slice(0, -2), { why: rest });
  return as('bug', null, {});
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
    case 'starting': return { what: 'The yard is still being opened.', safe: RECORDS, todo: 'Wait a moment and try again.' };
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
