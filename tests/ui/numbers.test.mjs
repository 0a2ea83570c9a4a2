// Typed text to numbers: what is read, what is refused, and that nothing is guessed.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { readCm, readCount, readDegrees, readGrams } from '../../ui/lib/numbers.js';

const value = (reading) => {
  assert.equal(reading.ok, true, reading.why);
  return reading.value;
};
const refused = (reading) => {
  assert.equal(reading.ok, false, `read as ${reading.value}`);
  return reading.why;
};

test('an empty weight is not known, and never zero', () => {
  assert.equal(value(readGrams('')), null);
  assert.equal(value(readGrams('   ')), null);
  assert.equal(value(readGrams('0')), 0);
});

test('whole grams are read, with or without their unit and gaps', () => {
  assert.equal(value(readGrams('340')), 340);
  assert.equal(value(readGrams(' 340 g ')), 340);
  assert.equal(value(readGrams('1 500')), 1500);
  assert.equal(value(readGrams('1\u202f500 g')), 1500);
});

test('kilograms are read with a point and with a comma', () => {
  assert.equal(value(readGrams('1.5 kg')), 1500);
  assert.equal(value(readGrams('1,5kg')), 1500);
  assert.equal(value(readGrams('0,255 KG')), 255);
  assert.equal(value(readGrams('1.500 kg')), 1500);
});

test('a weight that can be read two ways is refused, and both ways are offered', () => {
  for (const typed of ['1.500', '1,500']) {
    const why = refused(readGrams(typed));
    assert.match(why, /two ways/);
    assert.match(why, /1500/);
    assert.match(why, /1\.5 kg/);
  }
});

test('a weight that is no whole number of grams is refused', () => {
  for (const typed of ['1.5', '1,5', '-3', 'abc', '3e2', '12..5', '1,2,3', '10 lb', '0x10', 'Infinity', '.']) refused(readGrams(typed));
});

test('centimetres become millimetres with a point and with a comma', () => {
  assert.equal(value(readCm('12,5')), 125);
  assert.equal(value(readCm('12.5')), 125);
  assert.equal(value(readCm('100 cm')), 1000);
  assert.equal(value(readCm('')), null);
  // 4.35 * 10 is 43.49999... in floating point; a tenth is the finest that is taken.
  assert.equal(value(readCm('1.1')), 11);
  refused(readCm('4.35'));
});

test('lengths that make no sense are refused', () => {
  for (const typed of ['ten', '-5', '1.500', '1,500', '12,', ',5', '5 in']) refused(readCm(typed));
});

test('counts are digits only', () => {
  assert.equal(value(readCount('12', 'caps')), 12);
  assert.equal(value(readCount('', 'caps')), null);
  for (const typed of ['1.5', '-1', 'x', '1e3', '12345678901']) assert.match(refused(readCount(typed, 'caps')), /caps/);
});

test('wide digits from an Asian keyboard are digits', () => {
  assert.equal(value(readCount('１２', 'slugs')), 12);
});

test('degrees take a sign, a letter, a point or a comma', () => {
  assert.equal(value(readDegrees('48,14', 'lat')), 48.14);
  assert.equal(value(readDegrees('-33.9', 'lat')), -33.9);
  assert.equal(value(readDegrees('\u221233.9', 'lat')), -33.9);
  assert.equal(value(readDegrees('33.9 S', 'lat')), -33.9);
  assert.equal(value(readDegrees('77.03° w', 'lon')), -77.03);
  assert.equal(value(readDegrees('0', 'lon')), 0);
  assert.equal(value(readDegrees('', 'lon')), null);
});

test('degrees out of range or with two signs are refused', () => {
  assert.match(refused(readDegrees('90.1', 'lat')), /-90 and 90/);
  assert.match(refused(readDegrees('181', 'lon')), /-180 and 180/);
  for (const typed of ['-33 S', '48°08\'', '33.9 E', 'north']) refused(readDegrees(typed, 'lat'));
});

test('with US units a plain weight is ounces, a log’s is pounds, and each reads back to the same gram', async () => {
  const { showIn, cm, grams, logWeight, air, rain } = await import('../../ui/lib/format.js');
  const { readAir, readLogWeight, readRain } = await import('../../ui/lib/numbers.js');
  showIn('us');
  try {
    assert.deepEqual(readGrams('12.5'), { ok: true, value: 354 });
    assert.deepEqual(readGrams('1,5 lb'), { ok: true, value: 680 });
    assert.deepEqual(readLogWeight('31.5'), { ok: true, value: 14288 });
    assert.deepEqual(readAir('32'), { ok: true, value: 0 });
    assert.deepEqual(readAir('-2.5 C'), { ok: true, value: -25 });
    assert.deepEqual(readRain('0.5'), { ok: true, value: 127 });
    assert.equal(grams(680), '1.5 lb');
    assert.equal(logWeight(14288), '31.5 lb');
    assert.equal(air(-25), '27.5 °F');
    assert.equal(rain(127), '0.5 in');
    for (const mm of [20, 76, 101, 126, 127, 203, 999, 1000, 4999]) assert.deepEqual(readCm(cm(mm)), { ok: true, value: mm });
  } finally {
    showIn('metric');
  }
  assert.equal(logWeight(14288), '14.3 kg');
  assert.deepEqual(readLogWeight('14,3 kg'), { ok: true, value: 14300 });
  assert.deepEqual(readLogWeight('31.5 lb'), { ok: true, value: 14288 });
  assert.deepEqual(readAir('-2,5'), { ok: true, value: -25 });
  assert.deepEqual(readAir(''), { ok: true, value: null });
  assert.equal(readAir('warm').ok, false);
});
