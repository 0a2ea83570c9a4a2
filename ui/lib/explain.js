// The only place where an error becomes words: what happened, what is safe, what to do.
// It never hides an error. Invariant: every refusal gets three sentences a grower can act on.

import { air, bytes, cm, dayName, grams, lengthUnit, listed, rain, wind } from './format.js';
import { BY, METHOD, MUSHROOM, SPAWN, fieldName, meaningName } from './words.js';
import { inUse, lifeRefusal } from './words-life.js';

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
  const special = lifeRefusal(detail.why, detail) ?? SPECIAL[field ?? '']?.(detail);
  if (special) return { safe, ...special };
  switch (detail.why) {
    case 'empty': return { what: `The ${name} is empty.`, safe, todo: `Fill in the ${name}.` };
    case 'range': return { what: `The ${name} is out of range.`, safe, todo: `It goes from ${measure(detail.min, detail.unit)} to ${measure(detail.max, detail.unit)}.` };
    case 'order': return { what: detail.other.endsWith('_dc') ? 'The highest temperature lies below the lowest.' : `“${name}” lies before “${fieldName(detail.other)}”.`, safe, todo: 'Change one of the two.' };
    case 'future': return { what: `“${name}” lies in the future.`, safe, todo: 'Only what has happened goes into the register: write today or an earlier day.' };
    case 'not_a_date': return { what: `“${name}” is not a date.`, safe, todo: 'Choose the day, the month, the season or the year.' };
    case 'unknown_word': return { what: `“${detail.word}” is not known as ${name}.`, safe, todo: 'Choose from the list.' };
    case 'too_long': return { what: `There is too much in “${name}”.`, safe, todo: `It holds ${detail.max} ${LIMITS[field ?? ''] ?? 'letters'} at most.` };
    case 'taken': return { what: `Another spot is called “${detail.word}” already.`, safe, todo: 'Choose another name.' };
    case 'unfit': return { what: 'That cannot be done to any of these logs.', safe, todo: 'Choose something else.' };
    case 'dry_heavier': return { what: `The disc weighs ${grams(detail.dry_g)} dry and ${grams(detail.wet_g)} wet: it cannot be heavier dry than wet.`, safe, todo: 'See whether the two were swapped, or weigh it again.' };
    case 'too_far': return { what: 'That day is too far ahead.', safe, todo: `Weather can be typed in up to ${detail.days} days ahead.` };
    case 'too_many_days': return { what: `That would take in ${detail.days} days at once.`, safe, todo: `Take ${detail.max} days at most: choose a later first day.` };
    case 'impossible': return { what: 'The figures cannot be in these units.', safe, todo: 'Say in which units the file is.' };
    case 'no_weather': return { what: 'This is not a station’s daily file in a layout that can be read here.', safe: 'Nothing was taken in, and the file is as it was.', todo: 'Choose a GHCN-Daily file: .dly, or a station’s CSV.' };
    case 'twice': return { what: `“${name}” names one thing twice.`, safe, todo: 'Take one of them out.' };
    case 'number': return { what: `The ${name} is not a number.`, safe, todo: 'Write digits only.' };
    default: return picture(detail) ?? { what: `The ${name} does not fit.`, safe, todo: 'Look at it once more.' };
  }
}

/** Fields whose reasons are their own. @type {Record<string, (detail: Record<string, any>) => {what: string, todo: string, safe?: string} | null>} */
const SPECIAL = { condition: () => ({ what: 'Nothing is said yet about the wood.', todo: 'Tap what you saw, take a photo or write a note.' }), text: (detail) => (detail.why === 'no_weather' ? null : sheet(detail)), base64: sheet, columns, folder, basket, lines, place: hour, when };

/** @param {Record<string, any>} detail */
function basket({ why }) {
  return why === 'empty' ? { what: 'No log was picked into this basket, so its weight has nowhere to go.', todo: 'Enter the pickings first, each with “Into the basket”.' } : null;
}

/** @param {Record<string, any>} detail */
function lines({ why }) {
  if (why === 'empty') return { what: 'The sheet has no log on it.', todo: 'Fill in a line, or tap “All others clean”.' };
  return { what: 'One log stands on the sheet twice.', todo: 'Leave one of its lines empty.' };
}

/** @param {Record<string, any>} detail */
function when({ why, day }) {
  return why === 'other_evening' ? { what: `This round is that of ${dayName(day)}, so last night is another one’s.`, todo: 'Choose “now”, or start a round of last night from Rounds.' } : null;
}

/** @param {Record<string, any>} detail */
function hour({ why }) {
  return why === 'no_hour' ? { what: 'Tonight has no hour: no place is set, or it does not get dark there.', todo: 'Set the place in Settings.' } : null;
}

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
    case 'heic_share': return { what: 'The place cannot be taken out of a HEIC picture here.', safe: 'Nothing was handed out, and the original is as it was.', todo: 'Save it as JPEG in another program, and hand that on.' };
    case 'no_tag': case 'too_small': case 'unclear': return { what: 'No tag in this photo is clear enough to measure by.', safe: 'Nothing was kept.', todo: 'Take a photo with the whole tag in it, sharp, beside the caps.' };
    case 'too_much_memory': return { what: 'This picture is too large to be looked into on this device.', safe: 'It is kept as it is.', todo: 'Open it on a larger device.' };
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
    case 'round_ended': return { what: 'This round has ended.', safe: 'What was entered on it is kept.', todo: 'Start a new round from Chores.' };
    case 'round_open': return { what: 'A night round of this evening is open already.', safe: 'What was ticked off is kept.', todo: 'Go on with it from Chores.' };
    case 'answered': return { what: 'This was answered already, here or on the other device.', safe: RECORDS, todo: 'There is nothing more to do.' };
    case 'undone_already': return { what: 'This was taken back already.', safe: RECORDS, todo: 'There is nothing more to do.' };
    case 'nothing_changed': return { what: 'Nothing was changed, so there is nothing to save.', safe: RECORDS, todo: 'Change what is wrong, or go back.' };
    case 'in_use': return inUse(detail);
    case 'not_ended': return { what: 'This log has not ended.', safe: RECORDS, todo: 'There is no ending to take back.' };
    case 'away': return { what: 'This log left the yard.', safe: RECORDS, todo: 'If it is back, take its ending back on its page; then write it down.' };
    case 'in_tank': return { what: 'This log lies in the tank already.', safe: RECORDS, todo: 'Lift it out first.' };
    case 'not_in_tank': return { what: 'This log is not in a tank.', safe: RECORDS, todo: 'Look at its page for when it came out.' };
    case 'day_before': return { what: 'That day is before the log went into the tank.', safe: RECORDS, todo: 'Choose the day it was lifted out.' };
    case 'ended_already': return { what: 'This log has ended already.', safe: RECORDS, todo: 'Its page shows when and why.' };
    case 'spot_in_use': return { what: `${detail.logs === 1 ? 'One log lies' : `${detail.logs} logs lie`} at this spot.`, safe: RECORDS, todo: 'Move them to another spot first, then take this one out.' };
    case 'nothing_new': return { what: 'Nothing in this file is new.', safe: RECORDS, todo: 'Its days stand in the register already, or were typed by hand.' };
    case 'starting': return { what: 'The yard is still being opened.', safe: RECORDS, todo: 'Wait a moment and try again.' };
    default: return { what: 'This does not fit what is in the register now.', safe: RECORDS, todo: 'Go back, look at it as it is now, and try again.' };
  }
}

/**
 * @param {number} n
 * @param {string} unit
 */
function measure(n, unit) {
  if (unit === 'mm') return `${cm(n)} ${lengthUnit()}`;
  if (unit === 'g') return grams(n);
  if (unit === 'tenths_c') return air(n);
  if (unit === 'tenths_mm') return rain(n);
  if (unit === 'tenths_kmh') return wind(n);
  if (unit === 'tenths_l') return `${n / 10} l`;
  return unit ? `${n} ${unit}` : String(n);
}
