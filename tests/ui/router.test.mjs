// Addresses of screens, topics that make one load again, and request ids.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { newRequest } from '../../ui/lib/request.js';
import { link, parse, PATTERNS } from '../../ui/lib/router.js';
import { LOGS, touches } from '../../ui/lib/topics.js';

test('every link leads back to its screen and values', () => {
  for (const name of Object.keys(PATTERNS)) {
    const values = { log: 'a/b c', hash: 'ff00', round: '1', from: 'backups', name: 'a b.sqlite', search: 'ö 37', spot: 's/1', wood: 'plum', batch: 'b1', strain: 's1', lot: 'l1', basket: 'b1' };
    assert.deepEqual(parse(link(name, values)), { name, params: values });
  }
});

test('the app starts at the chores, and an unknown address leads nowhere', () => {
  assert.equal(parse('')?.name, 'chores');
  assert.equal(parse('#/')?.name, 'chores');
  assert.equal(parse('#/log/1/nothing'), null);
});

test('adding a log is not a log called new', () => {
  assert.equal(parse('#/log/new')?.name, 'log-new');
});

test('a screen loads again for its topics, for unknown ones, and never when it has none', () => {
  assert.equal(touches(LOGS, ['picking']), true);
  assert.equal(touches(LOGS, ['setting']), false);
  assert.equal(touches(LOGS, ['a topic of a later version']), true);
  assert.equal(touches(LOGS, []), true);
  assert.equal(touches(['*'], ['setting']), true);
  assert.equal(touches([], ['picking']), false);
});

test('request ids are version 4 UUIDs and never the same', () => {
  const ids = new Set(Array.from({ length: 1000 }, newRequest));
  assert.equal(ids.size, 1000);
  for (const id of ids) assert.match(id, /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
});
