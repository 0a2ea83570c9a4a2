// Labelled fields: text, several lines, a list to choose from, and chips to tap.
// They never keep what is typed themselves. Invariant: each has a label, and its error is tied to it and read aloud.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { ifDefined } from '../vendor/lit-html/directives/if-defined.js';
import { live } from '../vendor/lit-html/directives/live.js';

/** @import {TemplateResult} from '../vendor/lit-html/lit-html.js' */

/**
 * @typedef {object} Text
 * @property {string} name also the id
 * @property {string} label
 * @property {string} value
 * @property {(value: string) => void} onInput
 * @property {string} [unit]
 * @property {string} [hint]
 * @property {string} [wrong]
 * @property {'text' | 'numeric' | 'decimal' | 'search'} [keys]
 * @property {string[]} [list] suggestions
 * @property {boolean} [required]
 */

/** @param {Text} f */
export function text(f) {
  return html`<div class="field">
    ${label(f)}
    <input id=${f.name} name=${f.name} type="text" autocomplete="off" inputmode=${f.keys ?? 'text'} .value=${live(f.value)}
      list=${ifDefined(f.list ? `${f.name}-list` : undefined)} ?required=${f.required ?? false}
      aria-invalid=${f.wrong ? 'true' : 'false'} aria-describedby=${ifDefined(described(f))}
      @input=${(/** @type {Event} */ e) => f.onInput(typed(e))} @change=${(/** @type {Event} */ e) => f.onInput(typed(e))} />
    ${f.list ? html`<datalist id=${`${f.name}-list`}>${f.list.map((item) => html`<option value=${item}></option>`)}</datalist>` : nothing}
    ${below(f)}
  </div>`;
}

/** @param {Text} f */
export function lines(f) {
  return html`<div class="field">
    ${label(f)}
    <textarea id=${f.name} name=${f.name} rows="2" .value=${live(f.value)} aria-invalid=${f.wrong ? 'true' : 'false'}
      aria-describedby=${ifDefined(described(f))} @input=${(/** @type {Event} */ e) => f.onInput(typed(e))} @change=${(/** @type {Event} */ e) => f.onInput(typed(e))}></textarea>
    ${below(f)}
  </div>`;
}

/**
 * @param {Omit<Text, 'keys' | 'list' | 'unit'> & {options: {value: string, label: string, group?: string}[]}} f
 */
export function select(f) {
  return html`<div class="field">
    ${label(f)}
    <select id=${f.name} name=${f.name} aria-invalid=${f.wrong ? 'true' : 'false'} aria-describedby=${ifDefined(described(f))}
      @change=${(/** @type {Event} */ e) => f.onInput(typed(e))}>
      ${f.options.map((o) => html`<option value=${o.value} .selected=${live(o.value === f.value)}>${o.label}</option>`)}
    </select>
    ${below(f)}
  </div>`;
}

/**
 * One of a few, as chips.
 * @template {string} V
 * @param {object} c
 * @param {string} c.name
 * @param {string} c.legend
 * @param {readonly {value: V, label: string | TemplateResult, hint?: string}[]} c.options
 * @param {V | null} c.value
 * @param {(value: V) => void} c.onPick
 * @param {string} [c.hint]
 * @param {string} [c.wrong]
 * @param {string} [c.look] class of the group
 * @param {boolean} [c.required]
 */
export function chips(c) {
  return html`<div class=${`chips ${c.look ?? ''}`} role="radiogroup" data-field=${c.name} aria-labelledby=${`${c.name}-legend`} aria-describedby=${ifDefined(described(c))}>
    <p class="legend" id=${`${c.name}-legend`}>${c.legend}${c.required ? html` <span class="needed">needed</span>` : nothing}</p>
    <div class="chip-row">
      ${c.options.map((o) => html`<label class="chip" data-value=${o.value}>
        <input type="radio" name=${c.name} value=${o.value} .checked=${live(c.value === o.value)} @change=${() => c.onPick(o.value)} />
        <span class="chip-face">${o.label}${o.hint ? html`<small>${o.hint}</small>` : nothing}</span>
      </label>`)}
    </div>
    ${below(c)}
  </div>`;
}

/** @param {{name: string, label: string, unit?: string, required?: boolean}} f */
function label(f) {
  return html`<label for=${f.name}>${f.label}${f.unit ? html` <span class="unit">in ${f.unit}</span>` : nothing}${f.required ? html` <span class="needed">needed</span>` : nothing}</label>`;
}

/** @param {{name: string, hint?: string, wrong?: string}} f */
function below(f) {
  return html`${f.hint ? html`<p class="hint" id=${`${f.name}-hint`}>${f.hint}</p>` : nothing}
    ${f.wrong ? html`<p class="wrong" id=${`${f.name}-wrong`} role="alert">${f.wrong}</p>` : nothing}`;
}

/** @param {{name: string, hint?: string, wrong?: string}} f */
function described(f) {
  return [f.hint ? `${f.name}-hint` : '', f.wrong ? `${f.name}-wrong` : ''].filter(Boolean).join(' ') || undefined;
}

/** @param {Event} event */
function typed(event) {
  return /** @type {HTMLInputElement} */ (event.target).value;
}
