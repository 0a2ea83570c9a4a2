// Sizes of many logs as typed, the map's layout, and the words of spots, moves and the wood.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { readSizes } from '../../ui/logs-form/sizes.js';
import { WIDTH, layout } from '../../ui/map/layout.js';
import { sentence, warning } from '../../ui/lib/words.js';
import { spotLike } from '../../ui/lib/words-yard.js';

test('sizes are read one log a line, and lines left out are logs not measured', () => {
  const read = readSizes('12,5\n13 / 11\n\n12.5 x 95\n13 11', '6', '100');
  assert.deepEqual(read.sizes, [
    { d_mm: [125], length_mm: 1000 }, { d_mm: [130, 110], length_mm: 1000 }, { d_mm: [], length_mm: 1000 },
    { d_mm: [125], length_mm: 950 }, { d_mm: [130, 110], length_mm: 1000 }, { d_mm: [], length_mm: 1000 },
  ]);
  assert.equal(read.measured, 4);
});

test('what cannot be read is said by its line or field', () => {
  const wrong = (text, n = '2', length = '') => readSizes(text, n, length).wrong;
  assert.match(wrong('12\nthick').text, /^Line 2: “thick”/);
  assert.equal(wrong('1\n2\n3').field, 'sizes');
  assert.equal(wrong('', '0').field, 'n');
  assert.equal(wrong('', '201').field, 'n');
  assert.equal(wrong('', 'ten').field, 'n');
  assert.equal(wrong('', '2', 'long').field, 'length_mm');
  assert.match(wrong('1/2/3/4').text, /three/);
  assert.match(wrong('1x2x3').text, /more than one length/);
});

test('the map keeps everything within its width and no two logs overlap', () => {
  const station = (n, logs) => ({ spot: { id: String(n), name: `Spot ${n}`, logs }, fields: null, total: logs, logs: Array.from({ length: logs }, (_, i) => ({ id: `${n}-${i}` })) });
  const { placed, height, way } = layout([station(1, 12), station(2, 0), station(3, 1)]);
  const logs = placed.flatMap((one) => one.logs);
  assert.equal(logs.length, 13);
  for (const [i, a] of logs.entries()) {
    assert.ok(a.x >= 0 && a.x + 60 <= WIDTH && a.y + 60 <= height, JSON.stringify(a));
    for (const b of logs.slice(i + 1)) assert.ok(Math.abs(a.x - b.x) >= 60 || Math.abs(a.y - b.y) >= 60);
  }
  assert.ok(way.startsWith('M') && !way.includes('NaN'));
});

test('acts on spots, moves and wood are said in words', () => {
  assert.equal(sentence('log_move', { n: 3, tag: null, name: 'Barn', why: 'bring_in', day: '2026-12-05', late: 0 }), '3 logs brought in to Barn, 5 December 2026.');
  assert.match(sentence('log_move', { n: 1, tag: '7', name: 'Hedge', why: 'plain', day: '2026-12-05', late: 1 }), /stays where it is now/);
  assert.equal(sentence('tend_add', { n: 4, tag: null, spot: 'Hedge', what: 'turn', passed: 1 }), '4 logs of Hedge turned. 1 log left out: it is nothing for them.');
  assert.equal(sentence('condition_add', { tag: '7', bark: 'tight', cracks: null, wax: null, pecked: null, competitor: 'grey_fan', extent: 'spots', photos: 0 }), 'Wood of log 7 looked at: bark tight; grey fans, a few spots.');
  assert.equal(sentence('logs_add', { n: 10, first: 'A07', last: 'A17' }), '10 logs added, A07 to A17.');
  assert.match(warning('logs_add', { passed: ['A09'], passed_n: 1 }), /passed over: A09/);
  assert.equal(sentence('spot_save', { new: false, was: 'Hedge', name: 'North hedge' }), 'Spot Hedge is now North hedge.');
  assert.equal(sentence('log_retag', { before: '4', tag: '1' }), 'Log 4 is tagged 1 now.');
});

test('a spot nobody described is not made up', () => {
  const fields = { name: 'Hedge', shade: null, ground: null, water: null, rain: null, winter_sun: null, heated: null, note: '' };
  assert.equal(spotLike(fields), '');
  assert.equal(spotLike({ ...fields, rain: 'none', heated: true }), 'under a roof, kept from frost');
});
