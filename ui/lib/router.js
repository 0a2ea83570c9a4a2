// Addresses of screens: reads `#/log/<id>/look` into a name and its values, and writes links back.
// It never loads or draws. Invariant: `parse(link(name, values))` gives the same name and values.

/** @typedef {{name: string, params: Record<string, string>}} Route */

/** One pattern a screen; `:x` is a value. The first is where the app starts. */
export const PATTERNS = /** @type {const} */ ({
  chores: '/chores',
  yard: '/yard',
  'log-new': '/log/new',
  log: '/log/:log',
  'log-edit': '/log/:log/edit',
  ending: '/log/:log/end',
  look: '/log/:log/look',
  picking: '/log/:log/picking',
  'care-slip': '/log/:log/care-slip',
  photo: '/log/:log/photo/:hash',
  measure: '/log/:log/photo/:hash/measure',
  then: '/log/:log/then',
  round: '/round/:round',
  'pick-round': '/pick/:round',
  rounds: '/rounds',
  basket: '/basket/:basket',
  sheet: '/sheet',
  sighting: '/sighting',
  losses: '/losses',
  woods: '/woods',
  wood: '/woods/:wood',
  'wood-waiting': '/wood-waiting',
  batch: '/wood-waiting/:batch',
  strains: '/strains',
  strain: '/strains/:strain',
  lot: '/lots/:lot',
  review: '/review',
  season: '/review/season',
  acts: '/acts',
  settings: '/settings',
  care: '/care',
  copy: '/care/:from/:name',
  sharing: '/sharing',
  archive: '/archive',
  twins: '/twins',
  'bring-in': '/bring-in',
  spots: '/spots',
  map: '/map',
  'spot-new': '/spot/new',
  spot: '/spot/:spot',
  'spot-edit': '/spot/:spot/edit',
  move: '/move',
  condition: '/log/:log/condition',
  tend: '/tend',
  'lost-tag': '/lost-tag',
  'logs-new': '/logs/new',
  tags: '/tags',
  photos: '/photos',
  pinned: '/pinned',
  'photo-room': '/photo-room',
  tank: '/tank',
  weigh: '/weigh',
  watering: '/watering',
  weather: '/weather',
  moisture: '/log/:log/moisture',
  lifting: '/log/:log/lifting',
});

/**
 * @param {string} hash such as `#/yard?search=37`
 * @returns {Route | null} null when no screen lives there
 */
export function parse(hash) {
  const [path, query = ''] = hash.replace(/^#/, '').split('?');
  const parts = path.split('/').filter(Boolean);
  if (parts.length === 0) return { name: 'chores', params: {} };
  for (const [name, pattern] of Object.entries(PATTERNS)) {
    const params = match(pattern.split('/').filter(Boolean), parts);
    if (params) return { name, params: { ...params, ...Object.fromEntries(new URLSearchParams(query)) } };
  }
  return null;
}

/**
 * @param {string[]} pattern
 * @param {string[]} parts
 * @returns {Record<string, string> | null}
 */
function match(pattern, parts) {
  if (pattern.length !== parts.length) return null;
  /** @type {Record<string, string>} */
  const params = {};
  for (const [i, piece] of pattern.entries()) {
    if (piece.startsWith(':')) params[piece.slice(1)] = decodeURIComponent(parts[i]);
    else if (piece !== parts[i]) return null;
  }
  return params;
}

/**
 * @param {keyof typeof PATTERNS} name
 * @param {Record<string, string>} [values] those the pattern does not hold go behind a `?`
 * @returns {string}
 */
export function link(name, values = {}) {
  const rest = { ...values };
  const path = PATTERNS[name].replace(/:(\w+)/g, (_, key) => {
    const value = rest[key];
    delete rest[key];
    return encodeURIComponent(value);
  });
  const query = new URLSearchParams(rest).toString();
  return `#${path}${query ? `?${query}` : ''}`;
}
