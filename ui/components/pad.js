// A numeric pad for thumbs: digits go into one of a few fields, the one that is marked.
// It never keeps what is typed. Invariant: no keyboard opens, and every key is as large as a round asks.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { icon } from './icons.js';

/**
 * @param {object} p
 * @param {{name: string, label: string, unit?: string, value: string}[]} p.fields
 * @param {string} p.at the field that is typed into
 * @param {(name: string) => void} p.onField
 * @param {(name: string, value: string) => void} p.onType
 */
export function pad({ fields, at, onField, onType }) {
  const value = fields.find(({ name }) => name === at)?.value ?? '';
  const press = (/** @type {string} */ digit) => onType(at, (value + digit).replace(/^0+(?=\d)/, '').slice(0, 6));
  return html`<div class="pad">
    <div class="pad-fields" role="group" aria-label="What is typed">
      ${fields.map(({ name, label, unit, value: typed }) => html`<button type="button" class="key pad-field" data-field=${name} aria-pressed=${name === at ? 'true' : 'false'} @click=${() => onField(name)}>
        <span>${label}</span><strong>${typed === '' ? '–' : typed}${typed !== '' && unit ? html`<small> ${unit}</small>` : nothing}</strong></button>`)}
    </div>
    <div class="keypad" role="group" aria-label="Digits">
      ${['1', '2', '3', '4', '5', '6', '7', '8', '9'].map((digit) => html`<button type="button" class="key" data-pad=${digit} @click=${() => press(digit)}>${digit}</button>`)}
      <button type="button" class="key" data-pad="clear" aria-label="Empty it" @click=${() => onType(at, '')}>${icon('close')}</button>
      <button type="button" class="key" data-pad="0" @click=${() => press('0')}>0</button>
      <button type="button" class="key" data-pad="erase" aria-label="Erase the last digit" @click=${() => onType(at, value.slice(0, -1))}>${icon('erase')}</button>
    </div>
  </div>`;
}
