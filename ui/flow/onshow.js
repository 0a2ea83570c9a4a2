// The screen on show: loads it, draws it, reloads it when an act touched its topics, and says what an act did.
// It never knows a noun. Invariant: the newest navigation wins; a slow load never draws over a later screen.

import { render } from '../vendor/lit-html/lit-html.js';
import { call, refused as asRefused } from '../api/call.js';
import { inOneText } from '../lib/explain.js';
import { newRequest } from '../lib/request.js';
import { parse } from '../lib/router.js';
import { touches } from '../lib/topics.js';
import { sentence, warning } from '../lib/words.js';
import { look } from './standing.js';

/** @import {Refused} from '../api/call.js' */
/** @import {Commands, Done} from '../api/types.js' */
/** @import {TemplateResult} from '../vendor/lit-html/lit-html.js' */

/**
 * @typedef {object} Screen
 * @property {readonly string[]} topics an act on one of these loads the screen again
 * @property {(params: Record<string, string>) => Promise<any>} load
 * @property {(view: any) => TemplateResult} render pure
 * @property {Record<string, Function>} on
 * @property {(view: any) => string} title
 * @property {(view: any) => TemplateResult} [foot] what stands below a form
 * @property {'tab' | 'page' | 'form' | 'round' | 'photo'} [frame]
 * @property {(view: any) => void | Promise<void>} [leave] stops what runs for the screen, and keeps what is being typed
 * @property {(event: KeyboardEvent, view: any) => void} [key]
 */

/** @typedef {{text: string, act: string | null, alert: boolean, screens: number}} Said */

/**
 * @typedef {object} Shown
 * @property {string} name
 * @property {Record<string, string>} params
 * @property {Screen | null} screen
 * @property {any} view
 * @property {Refused | null} trouble
 * @property {Said | null} said
 * @property {boolean} left the view on show was left already; another is being loaded
 */

/** @type {Shown} */
const now = { name: '', params: {}, screen: null, view: null, trouble: null, said: null, left: false };
/** @type {{screens: Record<string, Screen>, frame: (shown: Shown) => TemplateResult, root: HTMLElement} | null} */
let page = null;
let navigation = 0;
let undoing = false;
let arriving = 0;
let lastDepth = -1;

/**
 * @param {Record<string, Screen>} screens by route name
 * @param {(shown: Shown) => TemplateResult} frame
 * @param {HTMLElement} root
 */
export function start(screens, frame, root) {
  page = { screens, frame, root };
  history.scrollRestoration = 'manual';
  window.addEventListener('popstate', () => void arrive());
  document.addEventListener('click', follow);
  document.addEventListener('keydown', (event) => now.screen?.key?.(event, now.view));
  return arrive();
}

/** Draws the screen on show again from its view. */
export function redraw() {
  if (!page) return;
  render(page.frame(now), page.root);
  if (now.trouble) document.title = 'Cannot be shown · Shadeyard';
  else if (now.screen && now.view !== null) document.title = `${now.screen.title(now.view)} · Shadeyard`;
}

/** @param {string} hash */
export function go(hash) {
  keepScroll();
  history.pushState({ n: depth() + 1, from: location.hash }, '', hash);
  return arrive();
}

/**
 * Takes the place of the screen on show in the history.
 * @param {string} hash
 */
export function replace(hash) {
  history.replaceState({ n: depth(), from: history.state?.from }, '', hash);
  return arrive();
}

/**
 * Changes the address without leaving the screen; too late when it has been left.
 * @param {unknown} view
 * @param {string} hash
 */
export function readdress(view, hash) {
  if (view !== now.view || now.left) return;
  history.replaceState(history.state, '', hash);
  now.params = parse(hash)?.params ?? {};
}

/**
 * Back to where one came from.
 * @param {string} otherwise when the app was opened here
 */
export function back(otherwise) {
  if (depth() > 0) history.back();
  else void replace(otherwise);
}

/**
 * On to a screen that may be the very one one came from: then back to it.
 * @param {string} hash
 */
export function finish(hash) {
  if (history.state?.from === hash) history.back();
  else void replace(hash);
}

function scroller() {
  return document.getElementById('screen');
}

function depth() {
  return Number(history.state?.n ?? 0);
}

function keepScroll() {
  history.replaceState({ ...history.state, y: scroller()?.scrollTop ?? 0 }, '');
}

/**
 * Links between screens keep the place they leave, so that back returns to it.
 * @param {MouseEvent} event
 */
function follow(event) {
  const anchor = event.target instanceof Element ? event.target.closest('a[href^="#/"]') : null;
  if (!anchor || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  void go(anchor.getAttribute('href') ?? '#/chores');
}

async function arrive() {
  if (!page) return;
  if (history.state === null) history.replaceState({ n: lastDepth + 1 }, '');
  lastDepth = depth();
  const mine = ++navigation;
  arriving = mine;
  const route = parse(location.hash) ?? { name: 'chores', params: {} };
  const screen = page.screens[route.name];
  await leaveShown();
  const { view, trouble } = await loaded(screen, route.params);
  if (mine !== navigation) {
    if (view !== null) await screen.leave?.(view);
    return;
  }
  arriving = 0;
  if (now.said && ++now.said.screens > 1) now.said = null;
  Object.assign(now, { name: route.name, params: route.params, screen, view, trouble, left: false });
  redraw();
  scroller()?.scrollTo(0, history.state?.y ?? 0);
  page.root.querySelector('h1')?.focus({ preventScroll: true });
}

async function leaveShown() {
  if (!now.screen || now.view === null || now.left) return;
  now.left = true;
  await now.screen.leave?.(now.view);
}

/**
 * @param {Screen} screen
 * @param {Record<string, string>} params
 * @returns {Promise<{view: any, trouble: Refused | null}>}
 */
async function loaded(screen, params) {
  try {
    return { view: await screen.load(params), trouble: null };
  } catch (error) {
    return { view: null, trouble: asRefused(error) };
  }
}

/** Loads the screen on show again; when another is on its way, that one, so that it shows what changed. */
export async function reload() {
  if (arriving) return arrive();
  const { screen } = now;
  if (!screen) return;
  const mine = ++navigation;
  await leaveShown();
  const { view, trouble } = await loaded(screen, now.params);
  if (mine !== navigation) return;
  Object.assign(now, { view, trouble, left: false });
  redraw();
}

/**
 * Writes, and says what it did; a refusal is thrown on to the form.
 * @template {keyof Commands} N
 * @param {N} name
 * @param {Commands[N]['request']} request
 * @returns {Promise<Done>}
 */
export async function write(name, request) {
  try {
    const done = /** @type {Done} */ (await call(name, request));
    await happened(done);
    return done;
  } catch (error) {
    if (['too_new', 'damaged'].includes(asRefused(error).code)) void look().then((changed) => changed && redraw());
    throw error;
  }
}

/**
 * Says what was done where no act is left to take back.
 * @param {string} text
 */
export function tell(text) {
  now.said = { text, act: null, alert: false, screens: 0 };
  redraw();
}

/**
 * Says what an act did whose command may ask first, and loads what it touched.
 * @param {Done} done
 */
export async function written(done) {
  await happened(done);
}

/** @param {Done} done */
async function happened(done) {
  const text = [sentence(done.name, done.said), warning(done.name, done.said)].filter(Boolean).join(' ');
  now.said = { text, act: done.name === 'undo' ? null : done.act, alert: false, screens: 0 };
  redraw();
  if (now.screen && touches(now.screen.topics, done.changed)) await reload();
}

/**
 * Says why something was refused where no form can show it.
 * @param {unknown} error
 */
export function tellTrouble(error) {
  now.said = { text: inOneText(asRefused(error)), act: null, alert: true, screens: 0 };
  redraw();
}

/** Puts the bar away. */
export function hush() {
  now.said = null;
  redraw();
}

/**
 * Takes an act back.
 * @param {string | null} act null is the last one that can be
 * @returns {Promise<Done | null>} null when refused, which is then said
 */
export async function undo(act) {
  if (undoing) return null;
  undoing = true;
  try {
    return await write('undo', { act, request: newRequest() });
  } catch (error) {
    tellTrouble(error);
    return null;
  } finally {
    undoing = false;
  }
}
