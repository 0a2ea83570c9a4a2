// Degrees as typed, to tenths of a degree Celsius.
// It never guesses a unit. Invariant: empty is null, never 0.

/**
 * @param {string} text
 * @returns {{ok: true, value: number | null} | {ok: false, why: string}}
 */
export function readDegreesC(text) {
  const typed = text.normalize('NFKC').replace(/\u2212/g, '-').replace(/°\s*C?$/i, '').trim();
  if (typed === '') return { ok: true, value: null };
  if (!/^-?\d{1,2}([.,]\d)?$/.test(typed)) return { ok: false, why: `“${text.trim()}” is not a temperature in °C. Write it such as 12 or 12.5.` };
  return { ok: true, value: Math.round(Number(typed.replace(',', '.')) * 10) };
}
