// The one door to the backend: every command goes through here, and no other file knows the shell.
// It never chooses words for a person. Invariant: what it throws is always a whole `Refused`.

/** @import {Commands, PhotoKept} from './types.js' */

/**
 * What a refused command throws; `message` is for logs, `lib/explain.js` finds the words.
 * @typedef {object} Refused
 * @property {'invalid' | 'missing' | 'conflict' | 'too_new' | 'damaged' | 'disk_full' | 'bug'} code
 * @property {string} message
 * @property {string | null} field
 * @property {Record<string, any>} detail
 */

/** @typedef {(command: string, payload: unknown, options?: {headers: Record<string, string>}) => Promise<any>} Invoke */

/** @returns {{invoke: Invoke, convertFileSrc: (path: string, protocol: string) => string}} */
function core() {
  return /** @type {any} */ (window).__TAURI__.core;
}

/**
 * @template {keyof Commands} N
 * @param {N} name
 * @param {Commands[N]['request']} request
 * @returns {Promise<Commands[N]['reply']>}
 */
export async function call(name, request) {
  try {
    return await core().invoke('call', { name, request });
  } catch (error) {
    throw refused(error);
  }
}

/**
 * Hands the picture over as raw bytes; where the bridge carries only text, as base64.
 * @param {File} file
 * @returns {Promise<PhotoKept>}
 */
export async function keepPhoto(file) {
  if (/Android/.test(navigator.userAgent)) return call('photo_keep', { base64: await base64(file) });
  try {
    return await core().invoke('call', await file.arrayBuffer(), { headers: { name: 'photo_keep' } });
  } catch (error) {
    throw refused(error);
  }
}

/**
 * @param {string} hash
 * @param {'small' | 'large' | 'whole'} size
 */
export function photoUrl(hash, size) {
  return core().convertFileSrc(`${hash}.${size}`, 'photo');
}

/**
 * A file's bytes as base64.
 * @param {File} file
 * @returns {Promise<string>}
 */
export function base64(file) {
  return new Promise((kept, failed) => {
    const reader = new FileReader();
    reader.onload = () => kept(String(reader.result).replace(/^[^,]*,/, ''));
    reader.onerror = () => failed(reader.error);
    reader.readAsDataURL(file);
  });
}

/**
 * @param {unknown} error
 * @returns {Refused}
 */
export function refused(error) {
  if (error !== null && typeof error === 'object' && 'code' in error) return /** @type {Refused} */ (error);
  return { code: 'bug', message: String(error), field: null, detail: {} };
}
