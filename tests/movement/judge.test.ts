import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ruleForm, ruleFormValues, ruleFromForm } from '../../shared/movement/form.ts';
import { judgeMovement, strictest } from '../../shared/movement/judge.ts';
import { recogniseRegion, regionName, regionsOf } from '../../shared/movement/regions.ts';
import { type MovementRule, ruleBorders, ruleEffects } from '../../shared/movement/rule.ts';
import { startingRules } from '../../shared/movement/starting-rules.ts';

const place = (country: string | null = null, region: string | null = null) => ({ country, region });
const rule = (overrides: Partial<MovementRule> = {}): MovementRule => ({
  id: 1,
  name: 'Rule',
  from: place(),
  to: place(),
  border: 'any',
  about: { kind: 'all' },
  effect: 'block',
  words: 'Not at all.',
  source: 'example.org',
  checkedOn: '2026-01-01',
  permitNumber: '',
  permitExpiresOn: null,
  ...overrides,
});
const minor = { id: 7, scientificName: 'Exemplum minor', animalGroup: 'isopod' } as const;
const maior = { id: 8, scientificName: 'Exemplum maior', animalGroup: 'isopod' } as const;
const other = { id: 9, scientificName: 'Exemplumella minor', animalGroup: 'roach' } as const;
const journey = {
  from: place('US', 'US-TX'),
  to: place('US', 'US-CA'),
  species: [minor, maior, other],
  onDay: '2026-11-25',
};
const found = (one: Partial<MovementRule>, on: Partial<typeof journey> = {}) =>
  judgeMovement([rule(one)], { ...journey, ...on }).map(({ weight, reason, species }) => [
    weight,
    reason,
    species.length,
  ]);

describe('which rules touch a parcel', () => {
  it('knows a species, its genus and its group apart', () => {
    expect(found({})).toEqual([['block', 'forbidden', 3]]);
    expect(found({ about: { kind: 'species', speciesId: 7 } })).toEqual([['block', 'forbidden', 1]]);
    expect(found({ about: { kind: 'genus', genus: 'exemplum' } })).toEqual([['block', 'forbidden', 2]]);
    expect(found({ about: { kind: 'group', animalGroup: 'roach' } })).toEqual([['block', 'forbidden', 1]]);
    expect(found({ about: { kind: 'genus', genus: 'Exempl' } })).toEqual([]);
    expect(found({ about: { kind: 'species', speciesId: 10 } })).toEqual([]);
    expect(found({}, { species: [] })).toEqual([]);
  });

  it('goes by both ends of the way', () => {
    expect(found({ to: place('US', 'US-CA') })).toEqual([['block', 'forbidden', 3]]);
    expect(found({ to: place('US', 'US-NV') })).toEqual([]);
    expect(found({ from: place('DE') })).toEqual([]);
    expect(found({ border: 'region' })).toHaveLength(1);
    expect(found({ border: 'region' }, { to: place('US', 'US-TX') })).toEqual([]);
    expect(found({ border: 'country' })).toEqual([]);
    expect(found({ border: 'country' }, { to: place('CA') })).toHaveLength(1);
    // Another country is another region too.
    expect(found({ border: 'region' }, { to: place('CA') })).toEqual([['block', 'forbidden', 3]]);
  });

  it('warns where it cannot know, and never blocks by a guess', () => {
    const unknown = [['warn', 'place unknown', 3]];
    expect(found({ to: place('US', 'US-CA') }, { to: place('US') })).toEqual(unknown);
    expect(found({ border: 'region' }, { from: place('US') })).toEqual(unknown);
    expect(found({ to: place('US') }, { to: place() })).toEqual(unknown);
    expect(found({ border: 'country' }, { to: place() })).toEqual(unknown);
    // What is known decides against it all the same.
    expect(found({ to: place('US', 'US-CA'), from: place('DE') }, { to: place('US') })).toEqual([]);
    expect(found({}, { to: place() })).toEqual([['block', 'forbidden', 3]]);
  });

  it('lets nobody be stopped by a rule that nobody has checked', () => {
    expect(found({ checkedOn: null })).toEqual([['warn', 'not checked', 3]]);
    expect(found({ checkedOn: null, effect: 'permit' })).toEqual([['warn', 'not checked', 3]]);
    expect(found({ checkedOn: null, effect: 'warn' })).toEqual([['warn', 'caution', 3]]);
  });

  it('takes a permit until its last day, and speaks of its end thirty days before', () => {
    const permit = (number: string, expiresOn: string | null) =>
      found({ effect: 'permit', permitNumber: number, permitExpiresOn: expiresOn })[0]?.slice(0, 2);
    expect(permit('', null)).toEqual(['block', 'no permit']);
    expect(permit('P-1', '2026-11-24')).toEqual(['block', 'permit expired']);
    expect(permit('P-1', '2026-11-25')).toEqual(['warn', 'permit ends soon']);
    expect(permit('P-1', '2026-12-25')).toEqual(['warn', 'permit ends soon']);
    expect(permit('P-1', '2026-12-26')).toEqual(['permit', 'permitted']);
    expect(permit('P-1', null)).toEqual(['permit', 'permitted']);
  });

  it('puts the strictest in front, and one more rule never makes it milder', () => {
    const any = fc.record({
      effect: fc.constantFrom(...ruleEffects),
      border: fc.constantFrom(...ruleBorders),
      checkedOn: fc.constantFrom(null, '2026-01-01'),
      to: fc.constantFrom(place(), place('US'), place('US', 'US-CA'), place('DE')),
      permitNumber: fc.constantFrom('', 'P-1'),
      permitExpiresOn: fc.constantFrom(null, '2026-11-01', '2026-12-01', '2027-12-01'),
    });
    const order = ['clear', 'warn', 'block'];
    fc.assert(
      fc.property(fc.array(any, { maxLength: 5 }), any, (some, more) => {
        const rules = some.map((one) => rule(one));
        const before = judgeMovement(rules, journey);
        const after = judgeMovement([...rules, rule(more)], journey);
        const weights = after.map(({ weight }) => ['block', 'warn', 'permit'].indexOf(weight));
        expect(weights).toEqual([...weights].sort());
        expect(order.indexOf(strictest(after))).toBeGreaterThanOrEqual(order.indexOf(strictest(before)));
      }),
    );
  });
});

describe('regions', () => {
  it('are known by code and by name, as ISO 3166-2 has them', () => {
    // ISO 3166-2:US, ISO 3166-2:DE and ISO 3166-2:ES, as the Online Browsing Platform of ISO lists them (from memory).
    for (const text of ['US-CA', 'us-ca', 'CA', ' California ', 'california'])
      expect(recogniseRegion('US', text), text).toBe('US-CA');
    expect(recogniseRegion('DE', 'Baden-Wurttemberg')).toBe('DE-BW');
    expect(recogniseRegion('ES', 'Barcelona')).toBe('ES-CT');
    expect(recogniseRegion('ES', 'Asturias')).toBe('ES-AS');
    expect(regionName('US-CA')).toBe('California');
    expect(regionsOf('DE')).toHaveLength(16);
    expect(regionsOf('US').map(({ code }) => code)).toContain('US-HI');
  });

  it('are unknown where nothing or nonsense is written', () => {
    for (const text of ['', '  ', '-', 'Exampleshire', '<script>', 'constructor', '__proto__'])
      expect(recogniseRegion('US', text), text).toBeNull();
    for (const country of ['', 'ZZ', 'toString']) {
      expect(regionsOf(country)).toEqual([]);
      expect(recogniseRegion(country, 'California')).toBeNull();
    }
  });
});

describe('the public rules to begin with', () => {
  it('are all unchecked, have a source, and come through the form as they are', () => {
    expect(startingRules.length).toBe(14);
    expect(new Set(startingRules.map(({ name }) => name)).size).toBe(startingRules.length);
    for (const one of startingRules) {
      expect([one.checkedOn, one.permitNumber], one.name).toEqual([null, '']);
      const filled = Object.entries(ruleFormValues(one)).filter(([, value]) => value !== '');
      const read = ruleForm.parse(Object.fromEntries(filled));
      const made = ruleFromForm(read, { genera: [], speciesIds: [] }, '2026-11-25');
      expect(made).toEqual({ ok: true, values: one });
    }
  });
});
