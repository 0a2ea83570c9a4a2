// Starts the app: which screen lives at which name, the frame around them, and the light of the settings.
// It never draws a screen itself. Invariant: the light is right before the first screen shows.

import { call } from './api/call.js';
import { frame } from './components/frame.js';
import * as light from './lib/light.js';
import { hush, redraw, reload, start, undo } from './flow/onshow.js';
import { closed, look as lookOver } from './flow/standing.js';
import * as acts from './acts/screen.js';
import * as archive from './archive/screen.js';
import * as bringIn from './bring-in/screen.js';
import * as care from './care/screen.js';
import * as chores from './chores/screen.js';
import * as copy from './copy/screen.js';
import * as ending from './ending/screen.js';
import * as log from './log/screen.js';
import * as logForm from './log-form/screen.js';
import * as look from './look/screen.js';
import * as photo from './photo/screen.js';
import * as picking from './picking/screen.js';
import * as review from './review/screen.js';
import * as round from './round/screen.js';
import * as settings from './settings/screen.js';
import * as sharing from './sharing/screen.js';
import * as twins from './twins/screen.js';
import * as yard from './yard/screen.js';

const screens = {
  chores, yard, log, 'log-new': logForm, 'log-edit': logForm, ending, look, picking, photo, round, review, acts, settings,
  care, copy, sharing, archive, twins, 'bring-in': bringIn,
};

const on = {
  undo: (/** @type {string} */ act) => void undo(act),
  hush,
  again: () => void reload(),
};

/** A night round that is open this evening starts in Lamp again, whatever the phone forgot. */
async function lit() {
  try {
    const [{ light: chosen }, { round, evening }] = await Promise.all([call('settings_show', {}), call('chores_show', {})]);
    light.set(chosen);
    if (round?.day === evening) light.walk();
  } catch {
    // The first screen says what is wrong with the register; the light last used stays on.
    light.recall();
  }
}

const root = document.getElementById('app');
if (root) {
  await lit();
  await start(screens, (shown) => frame(shown, on, closed()), root);
  redraw();
  void lookOver().then(redraw);
}
