// The words for spots, moves, the wood itself, what is done for logs, and a lost tag; and what such acts did.
// It never formats numbers itself. Invariant: one meaning, one word, the same on every screen.

import { count, dayName, listed } from './format.js';

/** @import {Bark, Competitor, Cracks, Extent, Fits, Ground, MoveWhy, Pecked, Rain, MoveReason, Shade, SpotFields, Tend, Water, Wax} from '../api/types.js' */

/** @type {Record<Shade, string>} */
export const SHADE = { deep: 'deep shade', dappled: 'dappled', half: 'sun for part of the day', open: 'sun most of the day' };

/** @type {Record<Ground, string>} */
export const GROUND = { soil: 'bare soil', litter: 'leaf litter', grass: 'grass', gravel: 'gravel or sand', rails: 'rails or stones', floor: 'a floor' };

/** @type {Record<Water, string>} */
export const WATER = { none: 'rain only', can: 'cans, carried', hose: 'a hose', sprinkler: 'a sprinkler' };

/** @type {Record<Rain, string>} */
export const RAIN = { all: 'all of it', some: 'some: leaves keep some off', none: 'none: under a roof' };

/** @type {Record<Rain, string>} */
const RAIN_SHORT = { all: 'open to the rain', some: 'some rain comes through', none: 'under a roof' };

/**
 * What a spot is like, in a line; empty when nobody said.
 * @param {SpotFields | null} fields
 */
export function spotLike(fields) {
  if (!fields) return '';
  return [
    fields.shade && SHADE[fields.shade], fields.rain && RAIN_SHORT[fields.rain], fields.ground && `on ${GROUND[fields.ground]}`,
    fields.water && fields.water !== 'none' ? `watered with ${WATER[fields.water]}` : '', fields.winter_sun ? 'bare when the leaves are down' : '',
    fields.heated ? 'kept from frost' : '',
  ].filter(Boolean).join(', ');
}

/** @typedef {Exclude<MoveWhy, 'corrected'>} Carried what can be chosen: a page put right is no carrying */

/** @type {Record<Carried, string>} */
export const MOVE_WHY = { plain: 'Move', bring_in: 'Bring in', harden_off: 'Harden off' };

/** @type {Record<Carried, string>} */
export const MOVE_HINT = { plain: 'to another spot', bring_in: 'in from the frost', harden_off: 'out again' };

/** Why a log is on a list. @type {Record<MoveReason, string>} */
export const REASON = {
  frost_on_caps: 'caps or pins are out: frost spoils them',
  frost_after_soak: 'just soaked: pins need more than frost to come',
  frost_first_winter: 'in its spawn run: the spawn grows on where frost stays out',
  frost_over: 'stands inside, and frost is over',
};

/** @type {Record<Bark, string>} */
export const BARK = { tight: 'tight', loose: 'loose in places', off: 'off in places', bare: 'mostly off' };
/** @type {Record<Cracks, string>} */
export const CRACKS = { none: 'none', fine: 'fine as a hair', wide: 'wide as a coin' };
/** @type {Record<Wax, string>} */
export const WAX = { whole: 'whole', some: 'off some holes', off: 'off most holes' };
/** @type {Record<Pecked, string>} */
export const PECKED = { none: 'none', some: 'some', many: 'many' };
/** @type {Record<Extent, string>} */
export const EXTENT = { spots: 'a few spots', patch: 'a patch', half: 'about half the log', most: 'most of the log' };

/** @type {Record<Competitor, string>} */
export const COMPETITOR = {
  none: 'none to be seen', green_mould: 'green mould', dark_crust: 'dark crusts', crust: 'crusts with a rim', bracket: 'thin brackets',
  grey_fan: 'grey fans', other: 'something else',
};

/** What it is called, and what it tells (names published; what they tell is common practice, no source). @type {Record<Competitor, string>} */
export const COMPETITOR_HINT = {
  none: 'looked for, not found',
  green_mould: 'Trichoderma: too wet and still, or weak spawn',
  dark_crust: 'Hypoxylon, Diatrype: dry, sun on the bark',
  crust: 'Stereum: it was in the wood before the spawn',
  bracket: 'Trametes: it was in the wood, or the wax was off',
  grey_fan: 'Schizophyllum: too dry, too much sun',
  other: 'say what in the note, with a photo',
};

/** @type {Record<Tend, string>} */
export const TEND = {
  rewax: 'waxed again', turn: 'turned', restack: 'restacked', lift: 'lifted off the soil', clear: 'cleared of litter',
  bag: 'bagged', bag_off: 'bag taken off', foot: 'foot set into the soil',
};

/** @type {Record<Tend, string>} */
export const TEND_ACT = {
  rewax: 'Wax again', turn: 'Turn', restack: 'Restack', lift: 'Lift off the soil', clear: 'Clear litter away',
  bag: 'Put the totem in its bag', bag_off: 'Take the bag off', foot: 'Set the foot into the soil',
};

/** Why one does it (common practice, no source, where nothing else is said). @type {Record<Tend, string>} */
export const TEND_HINT = {
  rewax: 'every hole and dry end sealed', turn: 'end for end, wet side up', restack: 'air between the logs', lift: 'wild fungi come from the soil',
  clear: 'slugs hide in it', bag: 'for 3 to 4 months (from memory)', bag_off: 'once it is white at the joints', foot: 'it draws water from below',
};

/** What can hurt, where the act is. @type {Partial<Record<Tend, string>>} */
export const TEND_CAUTION = {
  rewax: 'Hot wax burns. Keep it under 150 °C, never leave it alone, and never put water on a wax fire: a lid smothers it. Let it cool to hand-warm on the bark: heat above about 38 °C harms spawn (figures from memory). Keep to the rules on open fire where you are.',
  turn: 'A wet log is heavy. Lift from the knees, carry the large ones with two, and mind your fingers between logs.',
  restack: 'A wet log is heavy, and a stack can roll. Carry the large ones with two; wedge the lowest row.',
  lift: 'A wet log is heavy. Lift from the knees, carry the large ones with two.',
  clear: 'Gloves: slugs and what lives in litter can carry disease. Wash your hands after.',
};

/** What to mind with a saw. */
export const SAW_CAUTION = 'If you cut rotten wood away: saws and grinders injure. Eyes, ears, hands and legs protected, never alone, never above the shoulder; take a course, and keep to your local rules.';

/** @type {Record<Fits, string>} */
export const FITS = { yes: 'fits', open: 'not written down', not_asked: '', no: 'another one is written down' };

/** What these fields are called. @type {Record<string, string>} */
export const YARD_FIELD = {
  shade: 'shade', ground: 'ground', water: 'what waters it', rain: 'rain that reaches it', winter_sun: 'bare in winter', heated: 'kept from frost',
  logs: 'logs', sizes: 'number of logs', condition: 'state of the wood', what: 'what was done', thick_mm: 'thickness', bark: 'bark', cracks: 'cracks', wax: 'wax',
  pecked: 'pecked plugs', competitor: 'other fungus', extent: 'extent',
};

/**
 * The wood as it was found.
 * @param {{bark: Bark | null, cracks: Cracks | null, wax: Wax | null, pecked: Pecked | null, competitor: Competitor | null, extent: Extent | null}} found
 */
export function woodFound({ bark, cracks, wax, pecked, competitor, extent }) {
  const parts = [
    bark && `bark ${BARK[bark]}`, cracks && (cracks === 'none' ? 'no cracks' : `cracks ${CRACKS[cracks]}`), wax && `wax ${WAX[wax]}`,
    pecked && (pecked === 'none' ? 'no plugs pecked' : `${PECKED[pecked]} plugs pecked`),
    competitor && (competitor === 'none' ? 'no other fungus' : `${COMPETITOR[competitor]}${extent ? `, ${EXTENT[extent]}` : ''}`),
  ].filter(Boolean);
  return parts.length ? parts.join('; ') : 'a note only';
}

/**
 * What an act of these rooms did, as one sentence; null for an act of another room.
 * @param {string} name
 * @param {Record<string, any>} said
 * @returns {string | null}
 */
export function yardSentence(name, said) {
  switch (name) {
    case 'spot_save': return said.new ? `Spot ${said.name} added.` : `Spot ${said.was ? `${said.was} is now ${said.name}` : `${said.name} changed`}.`;
    case 'spot_out': return `Spot ${said.name} taken out.`;
    case 'log_move': return `${said.tag ? `Log ${said.tag}` : count(said.n, 'log')} ${MOVED[/** @type {MoveWhy} */ (said.why)] ?? 'moved'} to ${said.name}${said.day ? `, ${dayName(said.day)}` : ''}.${late(said)}`;
    case 'condition_add': return `Wood of log ${said.tag} looked at: ${woodFound(/** @type {any} */ (said))}${said.photos ? `, ${count(said.photos, 'photo')}` : ''}.`;
    case 'tend_add': return `${said.tag ? `Log ${said.tag}` : `${count(said.n, 'log')}${said.spot ? ` of ${said.spot}` : ''}`} ${TEND[/** @type {Tend} */ (said.what)] ?? said.what}.${said.passed ? ` ${count(said.passed, 'log')} left out: it is nothing for them.` : ''}`;
    case 'logs_add': return said.n === 1 ? `Log ${said.first} added.` : `${said.n} logs added, ${said.first} to ${said.last}.`;
    case 'log_retag': return `Log ${said.before || 'without a tag'} is tagged ${said.tag} now.`;
    default: return null;
  }
}

/** @type {Record<MoveWhy, string>} */
export const MOVED = { plain: 'moved', bring_in: 'brought in', harden_off: 'put out again', corrected: 'put right on its page' };

/** @param {Record<string, any>} said */
function late({ late: n, tag }) {
  if (!n) return '';
  return tag ? ' It was moved again later, so it stays where it is now.' : ` ${n} of them ${n === 1 ? 'was' : 'were'} moved again later and ${n === 1 ? 'stays' : 'stay'} where ${n === 1 ? 'it is' : 'they are'}.`;
}

/**
 * What to mind after such an act.
 * @param {string} name
 * @param {Record<string, any>} said
 */
export function yardWarning(name, said) {
  if (name === 'log_retag' && said.same_tag > 0) return `Mind: ${said.same_tag === 1 ? 'another log carries' : `${said.same_tag} other logs carry`} the tag ${said.tag} too.`;
  if (name !== 'logs_add') return '';
  const passed = said.passed_n > 0 ? `In use already, so passed over: ${listed(said.passed)}${said.passed_n > said.passed.length ? ` and ${said.passed_n - said.passed.length} more` : ''}.` : '';
  return [passed, said.conifer ? 'Mind: a conifer does not carry these mushrooms.' : ''].filter(Boolean).join(' ');
}
