// Starts the app: which screen lives at which name, the frame around them, and the light of the settings.
// It never draws a screen itself. Invariant: the light is right before the first screen shows.

import { call } from './api/call.js';
import { frame } from './components/frame.js';
import * as light from './lib/light.js';
import { hush, redraw, reload, start, undo } from './flow/onshow.js';
import { showIn } from './lib/format.js';
import { closed, look as lookOver } from './flow/standing.js';
import * as acts from './acts/screen.js';
import * as archive from './archive/screen.js';
import * as bringIn from './bring-in/screen.js';
import * as care from './care/screen.js';
import * as chores from './chores/screen.js';
import * as copy from './copy/screen.js';
import * as ending from './ending/screen.js';
import * as measure from './measure/screen.js';
import * as log from './log/screen.js';
import * as logForm from './log-form/screen.js';
import { guard } from './lib/taps.js';
import * as basket from './basket/screen.js';
import * as look from './look/screen.js';
import * as losses from './losses/screen.js';
import * as pickRound from './pick-round/screen.js';
import * as rounds from './rounds/screen.js';
import * as sheet from './sheet/screen.js';
import * as sighting from './sighting/screen.js';
import * as photo from './photo/screen.js';
import * as photoRoom from './photo-room/screen.js';
import * as photos from './photos/screen.js';
import * as picking from './picking/screen.js';
import * as pinned from './pinned/screen.js';
import * as review from './review/screen.js';
import * as round from './round/screen.js';
import * as season from './season/screen.js';
import * as settings from './settings/screen.js';
import * as sharing from './sharing/screen.js';
import * as tags from './tags/screen.js';
import * as then from './then/screen.js';
import * as twins from './twins/screen.js';
import * as lifting from './lifting/screen.js';
import * as moisture from './moisture/screen.js';
import * as tank from './tank/screen.js';
import * as watering from './watering/screen.js';
import * as weather from './weather/screen.js';
import * as weigh from './weigh/screen.js';
import * as yard from './yard/screen.js';
import * as condition from './condition/screen.js';
import * as logsForm from './logs-form/screen.js';
import * as lostTag from './lost-tag/screen.js';
import * as map from './map/screen.js';
import * as move from './move/screen.js';
import * as spot from './spot/screen.js';
import * as spotForm from './spot-form/screen.js';
import * as spots from './spots/screen.js';
import * as tend from './tend/screen.js';
import * as batch from './batch/screen.js';
import * as careSlip from './care-slip/screen.js';
import * as lot from './lot/screen.js';
import * as strain from './strain/screen.js';
import * as strains from './strains/screen.js';
import * as wood from './wood/screen.js';
import * as woods from './woods/screen.js';
import * as woodWaiting from './wood-waiting/screen.js';

const screens = {
  chores, yard, log, 'log-new': logForm, 'log-edit': logForm, ending, look, picking, photo, round, review, acts, settings,
  care, copy, sharing, archive, twins, 'bring-in': bringIn,
  spots, map, spot, 'spot-new': spotForm, 'spot-edit': spotForm, move, condition, tend, 'lost-tag': lostTag, 'logs-new': logsForm,
  measure, then, tags, photos, pinned, 'photo-room': photoRoom,
  'pick-round': pickRound, rounds, basket, sheet, sighting, losses,
  tank, weigh, watering, weather, moisture, lifting,
  woods, wood, 'wood-waiting': woodWaiting, batch, strains, strain, lot, 'care-slip': careSlip,
  season,
};

const on = {
  undo: (/** @type {string} */ act) => void undo(act),
  hush,
  again: () => void reload(),
};

/** A night round that is open this evening starts in Lamp again, whatever the phone forgot. */
async function lit() {
  try {
    const [{ light: chosen, units }, { round, evening }] = await Promise.all([call('settings_show', {}), call('chores_show', {})]);
    showIn(units);
    light.set(chosen);
    if (round?.day === evening) light.walk();
  } catch {
    // The first screen says what is wrong with the register; the light last used stays on.
    light.recall();
  }
}

const root = document.getElementById('app');
if (root) {
  guard(document);
  await lit();
  await start(screens, (shown) => frame(shown, on, closed()), root);
  redraw();
  void lookOver().then(redraw);
}
