// Which light is on: Day, Lamp, or as the system has it; a night round turns Lamp on by itself.
// It never writes the setting itself. Invariant: once Lamp is on in the dark, only a hand or three hours turn it off.

/** @import {Light} from '../api/types.js' */

const NIGHT = 3 * 60 * 60 * 1000;

/** @type {Light} */
let setting = 'system';

/** @returns {Light} the light on show */
export function shown() {
  return Number(localStorage.getItem('lamp-until') ?? 0) > Date.now() ? 'lamp' : setting;
}

/** @param {Light} light as the settings have it */
export function set(light) {
  setting = light;
  localStorage.setItem('light', light);
  apply();
}

/** The light last used here. */
export function recall() {
  set(/** @type {Light} */ (localStorage.getItem('light') ?? 'system'));
}

/** A round is being walked: keep Lamp on for a while from now. */
export function walk() {
  localStorage.setItem('lamp-until', String(Date.now() + NIGHT));
  apply();
}

/** The hand turned Lamp off. */
export function leaveLamp() {
  localStorage.removeItem('lamp-until');
  apply();
}

/** Whether Lamp is amber instead of red, for eyes that do not see red. */
export function amber() {
  return localStorage.getItem('lamp-amber') === 'on';
}

/** @param {boolean} on this device only */
export function setAmber(on) {
  localStorage.setItem('lamp-amber', on ? 'on' : 'off');
  apply();
}

function apply() {
  document.documentElement.dataset.amber = amber() ? 'on' : 'off';
  const light = shown();
  document.documentElement.dataset.light = light;
  const scheme = document.querySelector('meta[name="color-scheme"]');
  scheme?.setAttribute('content', light === 'lamp' ? 'dark' : light === 'day' ? 'light' : 'light dark');
}
