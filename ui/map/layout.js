// Where things lie on the map: stations down the way one walks, each with its logs beside it.
// It never draws. Invariant: no two logs overlap, and everything lies within the map's width.

/** @import {Station} from '../api/types.js' */

export const WIDTH = 358;
/** The way lies on the left; logs to the right of it, each in a square a thumb can hit. */
const WAY = 26;
const LEFT = 56;
const CELL = 60;
const TITLE = 58;
const GAP = 26;
export const DISC = 52;

/** @typedef {{x: number, y: number, station: Station, title: number, logs: {x: number, y: number, log: Station['logs'][number]}[], bottom: number}} Placed */

/**
 * @param {readonly Station[]} stations
 * @returns {{placed: Placed[], height: number, way: string}}
 */
export function layout(stations) {
  const row = Math.floor((WIDTH - LEFT) / CELL);
  let top = 8;
  /** @type {Placed[]} */
  const placed = [];
  for (const [i, station] of stations.entries()) {
    const x = WAY + (i % 2 === 0 ? -6 : 8);
    const logs = station.logs.map((log, n) => ({ x: LEFT + (n % row) * CELL, y: top + TITLE + Math.floor(n / row) * CELL, log }));
    const rows = Math.ceil(station.logs.length / row);
    const bottom = top + TITLE + rows * CELL;
    placed.push({ x, y: top + 24, station, title: top + 30, logs, bottom });
    top = bottom + GAP;
  }
  return { placed, height: Math.max(top - GAP + 12, 40), way: wayOf(placed) };
}

/**
 * A path through the stations in their order, as feet wear it.
 * @param {readonly {x: number, y: number}[]} points
 */
function wayOf(points) {
  return points.map(({ x, y }, i) => {
    if (i === 0) return `M${x} ${y}`;
    const before = points[i - 1];
    const middle = (before.y + y) / 2;
    return `C${before.x} ${middle} ${x} ${middle} ${x} ${y}`;
  }).join('');
}
