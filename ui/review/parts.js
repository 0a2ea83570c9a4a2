// What stands below the picture: the table, who beats whom, what to mind, and where each figure comes from.
// They never round an interval away. Invariant: sums with unweighed pickings read "at least".

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { whereFrom } from '../components/where-from.js';
import { capital, count, dayName, figure, grams, gramsAtLeast, listed, woodVolume } from '../lib/format.js';
import { link } from '../lib/router.js';
import { ADJUSTED, ASIDE, BY_GROUP, UNTOLD, groupName, measured } from '../lib/words-review.js';
import { answer, tiedWords } from './answer.js';

/** @import {GroupRow, Published} from '../api/types.js' */
/** @import {View} from './screen.js' */

/** Rows shown at most before the rest is only counted. */
const SHOWN = 60;

/** @param {View} view */
export function table(view) {
  const { by, measure } = view.question;
  const rows = view.rows.slice(0, SHOWN);
  return html`<section aria-labelledby="table-title">
    <h2 id="table-title">${capital(BY_GROUP[by].one)} by ${BY_GROUP[by].one}</h2>
    <div class="wide" tabindex="0" role="group" aria-labelledby="table-title">
    <table class="table" id="groups-table">
      <thead><tr><th scope="col">${capital(BY_GROUP[by].one)}</th><th scope="col">${measured(measure).unit}, 90 %</th><th scope="col">Best?</th><th scope="col">Logs, years, picked</th></tr></thead>
      <tbody>${rows.map((row) => html`<tr data-group=${row.key ?? ''}>
        <th scope="row">${capital(groupName(by, row.name))}</th>
        <td>${mean(row, measured(measure).by)}</td>
        <td>${row.best === null ? '–' : percent(row.best)}</td>
        <td>${row.used} of ${row.logs}<small>${row.log_years.toFixed(1)} log-years, ${gramsAtLeast(row.grams, row.unweighed)}${row.spawn_run ? `, ${row.spawn_run} too young` : ''}${row.ended ? `, ${row.ended} ended` : ''}</small></td>
      </tr>`)}</tbody>
    </table></div>
    ${view.rows.length > SHOWN ? html`<p class="soft">And ${view.rows.length - SHOWN} more, in the table that can be saved.</p>` : nothing}
  </section>`;
}

/**
 * @param {GroupRow} row
 * @param {number} by the unit shown, of one of the backend's
 */
function mean(row, by) {
  const why = row.why === null ? nothing : html`<small>${UNTOLD[row.why]}</small>`;
  if (row.mean === null && row.low === null) return row.why === null ? html`<span class="soft">not reached yet</span>` : html`<span class="soft">${UNTOLD[row.why]}</span>`;
  const to = row.high === null ? 'open' : figure(row.high * by);
  return html`${row.mean === null ? 'not reached' : figure(row.mean * by)}<small>${row.low === null ? '' : `${figure(row.low * by)} to ${to}`}</small>${why}`;
}

/** @param {number} p */
function percent(p) {
  const pct = Math.round(p * 100);
  return pct >= 99 ? '> 98 %' : pct <= 1 ? '< 2 %' : `${pct} %`;
}

/** @param {View} view */
export function beats(view) {
  const names = view.rows.slice(0, view.beats.length).map((row) => capital(groupName(view.question.by, row.name)));
  if (names.length < 2) return nothing;
  return html`<details class="where"><summary>Who beats whom</summary>
    <p class="hint">How sure it is that the row is better than the column.</p>
    <div class="wide" tabindex="0" role="group" aria-label="Who beats whom"><table class="table" id="beats-table">
      <thead><tr><td></td>${names.map((name) => html`<th scope="col">${name}</th>`)}</tr></thead>
      <tbody>${view.beats.map((row, a) => html`<tr><th scope="row">${names[a]}</th>${row.map((p, b) => html`<td>${a === b ? '' : percent(p)}</td>`)}</tr>`)}</tbody>
    </table></div></details>`;
}

/** What has to be known before the answer is believed. @param {View} view */
export function mind(view) {
  const { question: q } = view;
  return html`
    ${view.tied.length ? html`<section class="mind" id="tied" aria-label="What cannot be told apart">${view.tied.map((tied) => html`<p>${tiedWords(q, tied)}</p>`)}</section>` : nothing}
    ${view.odd.length ? html`<section class="trouble" id="odd" aria-label="Weights to look at">
      <p><strong>${view.odd.length === 1 ? 'Is this weight right?' : 'Are these weights right?'}</strong></p>
      <ul>${view.odd.map((o) => html`<li><a href=${link('log', { log: o.log })}>Log ${o.tag}</a>, ${dayName(o.day, view.today)}: ${grams(o.grams)}, where about ${grams(Math.round(o.usual))} is usual.</li>`)}</ul>
      <p>${view.odd.length === 1 ? 'It is' : 'They are'} counted as ${view.odd.length === 1 ? 'it stands' : 'they stand'}.${view.without_odd ? ` Without: ${answer(q, view.without_odd)}` : ''}</p>
    </section>` : nothing}`;
}

/** @param {View} view */
export function beside(view) {
  if (!view.published.length) return nothing;
  return html`<section aria-labelledby="published-title"><h2 id="published-title">What trials found</h2>
    <p class="hint">Published, for shiitake; not part of your figures.</p>
    <ul class="published">${view.published.map((p) => html`<li>${order(p)} <span class="soft">(${p.source})</span></li>`)}</ul></section>`;
}

/** @param {Published} p */
function order(p) {
  return p.order.map((step) => listed(step.map((wood) => wood.replace(/-/g, ' ')))).join(', then ');
}

/** @param {View} view */
export function sources(view) {
  const { by } = view.question;
  return html`<section aria-labelledby="from-title">
    <h2 id="from-title">Where the figures come from</h2>
    ${how(view)}
    ${view.rows.slice(0, SHOWN).map((row) => html`<div class="from-row" data-where=${row.key ?? ''}><strong>${capital(groupName(by, row.name))}</strong> ${whereFrom(row.from)}</div>`)}
    <details class="where"><summary>What was assumed beforehand</summary>${view.assumed.map((from) => whereFrom(from))}</details>
  </section>`;
}

/** @param {View} view */
function how(view) {
  const { differ: d } = view;
  return html`
    ${view.adjusted.length ? html`<p>Compared as if all logs were alike in ${listed(view.adjusted.map((a) => ADJUSTED[a] ?? a))}${view.litres ? `: a log of ${woodVolume(view.litres)}` : ''}. Small groups are drawn towards the mean of all.</p>` : nothing}
    ${d ? html`<p>${d.form === 'anova' ? `One-way analysis of your logs’ own figures: F ${figure(d.value)} with ${d.df} and ${d.df_within}` : `Log-rank test, hypergeometric form: χ² ${figure(d.value)} with ${d.df}`} degrees of freedom, p ${d.p < 0.001 ? 'below 0.001' : d.p.toFixed(3)}.</p>` : nothing}
    ${view.left_out.length ? html`<ul class="left-out">${view.left_out.map((l) => html`<li>${count(l.logs, 'log')} left out: ${ASIDE[l.why]}.</li>`)}</ul>` : nothing}`;
}
