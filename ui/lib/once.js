// Says a caution once a day, at the act it belongs to; there it stays until the act is done.
// It never knows what the caution says. Invariant: a day's first act always shows it.

/**
 * @param {Storage} store
 * @param {string} key which caution
 * @param {string} today
 * @param {string} place the card or form it is shown at
 */
export function onceADay(store, key, today, place) {
  const mark = `${today} ${place}`;
  const last = store.getItem(`caution-${key}`);
  if (last !== mark && last?.startsWith(today)) return false;
  store.setItem(`caution-${key}`, mark);
  return true;
}
