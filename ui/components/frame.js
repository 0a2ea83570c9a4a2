// The frame around every screen: the head, the bar that says what an act did, the bottom bar, and trouble on loading.
// It never calls the backend. Invariant: what an act did is said in one live region that is always there.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { explain } from '../lib/explain.js';
import { link } from '../lib/router.js';
import { closedBanner, closedLine } from './banner.js';
import { icon } from './icons.js';

/** @import {Closed} from '../api/types.js' */
/** @import {Refused} from '../api/call.js' */
/** @import {Said, Shown} from '../flow/onshow.js' */
/** @import {TemplateResult} from '../vendor/lit-html/lit-html.js' */

const TABS = /** @type {const} */ ([['chores', 'Chores'], ['yard', 'Yard'], ['review', 'Review']]);

const QUIET = new Set(['round', 'photo']);
/** Where what can be done about a closed yard is on the screen itself. */
const ABOUT = new Set(['copy', 'archive']);

/**
 * @param {Shown} shown
 * @param {{undo: (act: string) => void, hush: () => void, again: () => void}} on
 * @param {Closed | null} closed why nothing can be written
 */
export function frame(shown, on, closed) {
  const kind = shown.trouble ? 'page' : shown.screen?.frame ?? 'page';
  return html`<div class=${`frame frame-${kind}`}>
    <main id="screen" class=${`screen screen-${shown.name}`}>
      ${closed && shown.view !== null ? banner(closed, kind, shown.name) : nothing}
      ${shown.trouble ? troubled(shown.trouble, on.again) : shown.screen && shown.view !== null ? shown.screen.render(shown.view) : nothing}
    </main>
    <div class="foot">
      ${saidBar(shown.said, on, QUIET.has(kind))}
      ${kind === 'form' && shown.view !== null ? shown.screen?.foot?.(shown.view) ?? nothing : nothing}
      ${kind === 'tab' ? tabs(shown.name) : nothing}
    </div>
  </div>`;
}

/**
 * @param {Closed} closed
 * @param {string} kind
 * @param {string} name
 */
function banner(closed, kind, name) {
  if (QUIET.has(kind) || ABOUT.has(name)) return nothing;
  return kind === 'tab' || name === 'care' ? closedBanner(closed) : closedLine();
}

/**
 * @param {string} title
 * @param {{back?: {label: string, onBack: () => void}, end?: TemplateResult}} [sides]
 */
export function head(title, { back, end } = {}) {
  return html`<header class="head">
    ${back ? html`<button type="button" class="head-button" id="back" aria-label=${back.label} @click=${back.onBack}>${icon('back')}</button>` : nothing}
    <h1 tabindex="-1">${title}</h1>
    ${end ?? nothing}
  </header>`;
}

/**
 * Trouble at the top of a form, when no field carries it.
 * @param {string} text
 */
export function trouble(text) {
  return text ? html`<p class="trouble" role="alert" tabindex="-1">${text}</p>` : nothing;
}

/**
 * The foot of a form: its one button, always in reach.
 * @param {string} words
 * @param {boolean} off
 */
export function saveBar(words, off) {
  return html`<div class="save-bar"><button type="submit" form="form" class="button button-main button-wide" id="save" ?disabled=${off}>${words}</button></div>`;
}

/** @param {string} current */
function tabs(current) {
  return html`<nav class="tabs" aria-label="Places">
    ${TABS.map(([name, label]) => html`<a class="tab" id=${`tab-${name}`} href=${link(name)} aria-current=${current === name ? 'page' : 'false'}>${icon(name)}<span>${label}</span></a>`)}
  </nav>`;
}

/**
 * @param {Said | null} said
 * @param {{undo: (act: string) => void, hush: () => void}} on
 * @param {boolean} quiet the screen shows its own undo, or is a picture alone: said aloud, shown only when it is trouble
 */
function saidBar(said, on, quiet) {
  const act = said?.act ?? null;
  const seen = said !== null && !(quiet && !said.alert);
  return html`<div class=${`said ${seen ? 'said-on' : ''} ${said?.alert ? 'said-alert' : ''}`}>
    <p id="said" role="status" class=${seen ? '' : 'unseen'}>${said?.text ?? ''}</p>
    ${seen && act ? html`<button type="button" id="undo" class="said-undo" @click=${() => on.undo(act)}>${icon('undo')} Undo</button>` : nothing}
    ${seen ? html`<button type="button" id="hush" class="said-close" aria-label="Put this message away" @click=${on.hush}>${icon('close')}</button>` : nothing}
  </div>`;
}

/**
 * @param {Refused} refused
 * @param {() => void} again
 */
function troubled(refused, again) {
  const { what, safe, todo } = explain(refused);
  return html`${head('This cannot be shown')}
    <section class="sheet trouble-page" role="alert">
      <p class="strong">${what}</p><p>${safe}</p><p>${todo}</p>
      <p class="acts"><button type="button" class="button" id="again" @click=${again}>Try again</button>
      <a class="button" href=${link('chores')}>To the chores</a></p>
    </section>`;
}
