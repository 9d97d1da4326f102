import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type LineageInput, lineageInput, type MixingInput, mixingInput } from '../../shared/lines/form.ts';
import { kinship } from '../../shared/lines/kinship.ts';
import { keptWith, type MixingAnswer, mixing, mixingPartners } from '../../shared/lines/mixing.ts';
import { someLineage } from './stories.ts';

const breeding = { generationDays: 90, femaleShare: 0.5, neRatio: 0.5 };
const START = '2026-01-01';

function ask(cultures: MixingInput['cultures'], other: Partial<MixingInput> = {}): MixingAnswer {
  return mixing(mixingInput.parse({ cultures, ...breeding, asOf: START, for: 'A', ...other }));
}

const wild = (code: string, animals: number) => ({ code, foundedOn: START, wild: animals });
const codes = (answer: MixingAnswer): string[] => answer.partners.map(({ code }) => code);

describe('mixing', () => {
  test('worked example: two strangers of equal size', () => {
    expect(ask([wild('A', 10), wild('B', 10)])).toEqual({
      for: 'A',
      heterozygosityKept: expect.closeTo(0.9, 14),
      animals: 10,
      gainAimedAt: expect.closeTo(0.025, 14),
      partners: [
        {
          code: 'B',
          kinship: 0,
          heterozygosityAfter: expect.closeTo(0.95, 14),
          gain: expect.closeTo(0.05, 14),
          animals: 10,
          // (10^2 + 2^2) / 12^2 x 0.1 = 0.0722 is lost with 2 animals, 0.0835 with 1.
          animalsForGain: 2,
        },
      ],
    });
  });

  test('the stranger before the kin; the fewest animals for one gain tell them apart', () => {
    const kin = { code: 'K', foundedOn: START, parents: [{ code: 'A', animals: 5 }] };
    const answer = ask([
      { ...wild('A', 6), sizes: [{ date: START, animals: 20 }] },
      kin,
      {
        code: 'H',
        foundedOn: START,
        parents: [
          { code: 'K', animals: 9 },
          { code: 'S', animals: 9 },
        ],
      },
      wild('S', 30),
    ]);
    expect(codes(answer)).toEqual(['S', 'H']);
    const [stranger, half] = answer.partners;
    expect(stranger?.animalsForGain).toBeLessThan(half?.animalsForGain ?? Number.POSITIVE_INFINITY);
  });

  test('never proposed: itself, the dead, and what must stay apart, in either order', () => {
    const cultures = [
      wild('A', 10),
      wild('B', 10),
      wild('C', 10),
      wild('D', 10),
      { ...wild('E', 10), sizes: [{ date: START, animals: 0.4 }] },
    ];
    expect(codes(ask(cultures))).toEqual(['B', 'C', 'D']);
    expect(
      codes(
        ask(cultures, {
          neverMix: [
            ['A', 'B'],
            ['D', 'A'],
            ['B', 'C'],
          ],
        }),
      ),
    ).toEqual(['C']);
    const found = kinship(lineageInput.parse({ cultures, ...breeding, asOf: START }));
    expect(codes(mixingPartners(found, 0, { mayMix: (code) => code === 'D' }))).toEqual(['D']);
  });

  test('nobody to strengthen it', () => {
    const alone = ask([wild('A', 10)]);
    expect(alone).toMatchObject({ gainAimedAt: null, partners: [] });
    // A clone of itself is no less kin than it is inbred.
    const twin = { code: 'B', foundedOn: START, parents: [{ code: 'A', animals: 50 }] };
    expect(ask([wild('A', 10), twin]).partners).toEqual([]);
  });

  test('a gain asked for: the animals it takes, and who cannot give it', () => {
    const answer = ask([wild('A', 10), wild('B', 10), wild('C', 3)], { gain: 0.04 });
    expect(answer.gainAimedAt).toBe(0.04);
    expect(answer.partners.map(({ code, animalsForGain }) => [code, animalsForGain])).toEqual([
      ['B', 4],
      ['C', null],
    ]);
    expect(ask([wild('A', 10), wild('B', 10)], { gain: 0.9 }).partners[0]?.animalsForGain).toBeNull();
  });

  test('what it promises is what an addition does, and no other number of animals does better', () => {
    fc.assert(
      fc.property(someLineage, fc.nat(7), (input, pick) => {
        const place = pick % input.cultures.length;
        const code = input.cultures[place]!.code;
        const found = kinship(lineageInput.parse(input));
        fc.pre(found.animals[place]! >= 0.5);
        const answer = mixingPartners(found, place);
        for (const [i, other] of found.codes.entries()) {
          if (i === place) continue;
          const partner = answer.partners.find((one) => one.code === other);
          const best = everyNumber(found, place, i);
          if (partner === undefined) {
            expect(found.animals[i]! < 0.5 || best.first <= 1e-11).toBe(true);
            continue;
          }
          expect(partner.heterozygosityAfter).toBeCloseTo(best.kept, 10);
          expect(keptByAddition(input, place, other, partner.animals)).toBeCloseTo(
            partner.heterozygosityAfter,
            12,
          );
          const aim = answer.heterozygosityKept + answer.gainAimedAt! - 1e-11;
          const enough = best.ladder.findIndex((kept) => kept >= aim) + 1;
          if (partner.animalsForGain === null) expect(best.kept).toBeLessThan(aim + 2e-11);
          else expect(partner.animalsForGain).toBe(enough);
        }
        expect(answer.for).toBe(code);
        const after = answer.partners.map(({ heterozygosityAfter }) => heterozygosityAfter);
        expect(after.every((kept, i) => i === 0 || kept <= after[i - 1]! + 1e-11)).toBe(true);
      }),
    );
  });
});

/** Every number of animals the partner has, one by one. */
function everyNumber(found: ReturnType<typeof kinship>, place: number, partner: number) {
  const most = Math.max(1, Math.floor(found.animals[partner]!));
  const ladder = Array.from({ length: most }, (_, i) => keptWith(found, place, partner, i + 1));
  const kept = Math.max(...ladder);
  return { ladder, kept, first: (ladder[0] ?? 0) - keptWith(found, place, partner, 0) };
}

/** The same through the lineage itself: a day's addition at its end. */
function keptByAddition(input: LineageInput, place: number, code: string, animals: number): number {
  const cultures = input.cultures.map((culture, i) =>
    i === place
      ? { ...culture, additions: [...(culture.additions ?? []), { date: input.asOf, code, animals }] }
      : culture,
  );
  return 1 - kinship(lineageInput.parse({ ...input, cultures })).at(place, place);
}
