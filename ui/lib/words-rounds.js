// The words of rounds: animals and fungi, where slugs hid, what was done, slug weather, baskets, cautions.
// It never draws. Invariant: a caution names the rule or the advice it points to, and stands where its act is.

import { air, capital, count, dayName, grams, listed, rain, wind } from './format.js';

/** @import {Did, Reach, Hid, LossRisk, LossWhy, OtherSeen, PickQuality, Risk, RoundWhen, Suits, Tells, Sighted, WhereFrom} from '../api/types.js' */

/** @type {Record<Sighted, string>} */
export const SIGHTED = {
  slugs: 'slugs or snails', beetles: 'beetles', springtails: 'springtails', mice: 'mice', squirrels: 'squirrels', birds: 'birds', deer: 'deer',
  trichoderma: 'green mould', crusts: 'dark crusts', stereum: 'thin wavy shelves', trametes: 'brackets in zones', schizophyllum: 'grey fans', other_fungus: 'another fungus',
};

/** The names in the books. @type {Partial<Record<Sighted, string>>} */
export const SIGHTED_NAME = {
  trichoderma: 'Trichoderma', crusts: 'Hypoxylon, Diatrype', stereum: 'Stereum', trametes: 'Trametes', schizophyllum: 'Schizophyllum',
};

/** What a competitor tells of the log. @type {Record<Tells, string>} */
export const TELLS = {
  too_wet: 'It lies too wet, or too little air passes: raise it, give it room (common practice).',
  too_dry: 'It lies too dry or too sunny: more shade, water it (common practice).',
  may_be_lost: 'Another fungus holds part of the wood: what it holds is lost. Keep the log apart from good ones (common practice).',
};

/** @type {Record<LossRisk, string>} */
export const LOSS_RISK = { watch: 'May be lost to another fungus: watch it.', high: 'Likely lost to another fungus.' };

/**
 * What a log's risk of loss follows from.
 * @param {{why: LossWhy, what: Sighted | null, day: string, extent?: Reach | null, days?: number}} loss
 * @param {string} today
 */
export function lossWhy({ why, what, day, days }, today) {
  const seen = what ? SIGHTED[what] ?? 'another fungus' : 'another fungus';
  switch (why) {
    case 'half': return `${capital(seen)}, seen ${dayName(day, today)}, on half of it or more.`;
    case 'again': return `Fungi that take the wood were seen on ${days && days > 1 ? `${days} days` : 'two days or more'}, last ${seen} ${dayName(day, today)}.`;
    case 'seen': return `${capital(seen)} seen ${dayName(day, today)}.`;
  }
}

/** Why a log is walked to first, on its card. @type {Record<Exclude<Risk, 'caps'>, string>} */
export const AT_RISK = { damage: 'damage before', slugs: 'a slug night, and slugs here before', wet: 'a slug night, and still wet from tank or can' };

/** In which order a night round walks. */
export const WALK = 'Spots come in your walking order (Settings). Within a spot: pins or caps out first, then damage in the last 30 days; when the night suits slugs, logs where slugs were found in the last 30 days, then logs soaked or watered today or yesterday; then the rest, by tag. The order is made when the round begins, by what was known then.';

/** @type {Record<Reach, string>} */
export const EXTENT = { spot: 'a spot or two', part: 'less than half', most: 'half or more' };

/** When what is entered happened. @type {{value: RoundWhen, label: string}[]} */
export const WHEN = [{ value: 'now', label: 'now' }, { value: 'last_night', label: 'last night' }];

/** @type {Record<OtherSeen, string>} */
export const OTHER = { beetles: 'beetles', springtails: 'springtails', mice: 'mice', squirrels: 'squirrels', birds: 'birds', deer: 'deer' };

/** @type {Record<Hid, string>} */
export const HID = { caps: 'under caps', under: 'under the log', bark: 'in the bark', litter: 'in the litter', face: 'on the cut face' };

/** @type {Record<Did, string>} */
export const DID = { hand_picked: 'hand-picked', iron_phosphate: 'iron phosphate beside the logs', barrier: 'barrier', moved: 'moved', picked_early: 'picked early' };

/** @type {Record<PickQuality, string>} */
export const QUALITY = { best: 'firm', good: 'good', poor: 'eat first' };

/** @type {Record<Suits, string>} */
export const SUITS = { quiet: 'A quiet night for slugs', some: 'Some slugs likely', well: 'A slug night' };

/** In the units shown now. @returns {Record<string, string>} */
const slugReasons = () => ({
  slug_cold: `too cold below ${air(40)}`, slug_warm: 'too warm', slug_hot: 'far too warm', slug_mild: `between ${air(40)} and ${air(200)}`, slug_liked: `still between ${air(40)} and ${air(210)}`,
  slug_falling: 'falling warmth sets them off', slug_level: 'no fall in warmth to set them off', slug_wet: 'wet', slug_dry: 'dry', slug_driving: 'driving rain keeps them in',
  slug_still: 'little wind', slug_windy: 'wind dries them',
});

/** @param {WhereFrom} reason */
export function reasonWords(reason) {
  const [input] = reason.inputs;
  const value = Number(input?.value);
  const figure = input?.name.endsWith('_dc') ? air(value) : input?.name === 'rain_tenths' ? rain(value) : input?.name === 'wind_tenths' ? wind(value) : '';
  return `${slugReasons()[reason.how] ?? reason.how}${figure ? ` (${figure})` : ''}`;
}

/** Shown where the act is. */
export const CAUTION = {
  look_alike: 'Eat only what you planted and are sure of: a deadly look-alike (Galerina) grows on wood too. Cook it right through. Spores of flat caps irritate lungs.',
  salt: 'Salt water for slugs never goes on soil or logs. In warm regions slugs can carry rat lungworm: gloves or tongs, wash hands, discard slimed caps there.',
  bait: 'Metaldehyde harms dogs and wildlife, some iron baits harm pets too: follow the label and your local rules. Nothing on a food log without a label naming the crop.',
  animals: 'Local rules protect many animals, also those that do damage: ask before you trap or bait.',
};

/**
 * Other things of a check, in words; empty when there are none.
 * @param {{others?: OtherSeen[] | null, hid?: Hid[] | null, did?: Did[] | null}} check
 */
export function besides({ others, hid, did }) {
  return [...(others ?? []).map((o) => OTHER[o] ?? o), ...(hid ?? []).map((h) => HID[h] ?? h), ...(did ?? []).map((d) => DID[d] ?? d)].join(', ');
}

/**
 * What an act of a round did; null when it is none.
 * @param {string} name
 * @param {Record<string, any>} said
 * @param {(stage: any) => string} capsAt
 * @returns {string | null}
 */
export function roundSentence(name, said, capsAt) {
  switch (name) {
    case 'round_start': return said.kind === 'picking' ? `Picking round of ${dayName(said.day)} started.` : null;
    case 'round_end': return said.kind === 'picking' ? `Picking round of ${dayName(said.day)} ended: ${said.done} of ${count(said.logs, 'log')} seen.` : null;
    case 'round_sheet': return `Night round of ${dayName(said.day)} typed in: ${count(said.logs, 'log')}, ${count(said.slugs, 'slug')}.`;
    case 'pick_look': return `Log ${said.tag}: ${capsAt(said.seen)}${said.again ? `, look again on ${dayName(said.again)}` : ''}.`;
    case 'pick_take': return `Log ${said.tag} picked: ${said.basket ? 'into the basket' : grams(said.grams ?? null)}${said.caps == null ? '' : `, ${count(said.caps, 'cap')}`}.`;
    case 'pick_skip': return `Log ${said.tag} skipped on the picking round.`;
    case 'basket_weigh': return `Basket of ${dayName(said.day)} weighed: ${grams(said.grams)} from ${count(said.logs, 'log')}.`;
    case 'basket_answer': return said.same ? 'One basket, weighed twice: one weight stays.' : `${said.n} baskets: all weights stay.`;
    case 'basket_pair_answer': return said.same ? `One basket, entered twice: ${said.tags.length === 1 ? 'log' : 'logs'} ${listed(said.tags)} ${said.tags.length === 1 ? 'counts' : 'count'} once.` : 'Two baskets: both stay.';
    case 'sighting_add': return `${said.tag ? `Log ${said.tag}: ` : ''}${SIGHTED[/** @type {Sighted} */ (said.what)] ?? said.what} seen${said.n == null ? '' : ` (${said.n})`}${said.photos ? `, ${count(said.photos, 'photo')}` : ''}.`;
    case 'flush_mark': return `Log ${said.tag}, picking of ${dayName(said.day)}: ${said.how === 'split' ? 'begins a flush of its own' : said.how === 'join' ? 'joined with the flush before' : 'by the gap again'}.`;
    default: return null;
  }
}

/**
 * @param {{pickings: {tag: string}[]}} basket
 */
export function basketLogs({ pickings }) {
  return `${pickings.length === 1 ? 'log' : 'logs'} ${listed([...new Set(pickings.map(({ tag }) => tag))])}`;
}
