import { describe, expect, it } from 'vitest';
import { sectionOf } from '../../shared/enclosures/section.ts';
import { spreadLabels, wrapWords } from '../../views/enclosures/section-layout.ts';

const cup = { shape: 'frustum', topDiameterMm: 120, bottomDiameterMm: 80, heightMm: 100 } as const;

describe('an enclosure cut through', () => {
  it('stacks the layers from the floor up', () => {
    const section = sectionOf({ shape: 'box', lengthMm: 300, widthMm: 200, heightMm: 100 }, [
      { name: 'soil', depthMm: 50 },
      { name: 'leaves', depthMm: 20 },
    ]);
    expect(section).toMatchObject({ widthMm: 300, heightMm: 100, freeHeadMm: 30, overflowMm: 0 });
    expect(section.layers.map(({ name, fromMm, toMm }) => [name, fromMm, toMm])).toEqual([
      ['soil', 0, 50],
      ['leaves', 50, 70],
    ]);
    expect(section.layers[0]?.litres).toBe(3);
    expect(section.wall).toEqual([
      [0, 100],
      [0, 0],
      [300, 0],
      [300, 100],
    ]);
  });

  it('follows sloping walls', () => {
    const section = sectionOf(cup, [{ name: 'soil', depthMm: 50 }]);
    expect(section.wall).toEqual([
      [0, 100],
      [20, 0],
      [100, 0],
      [120, 100],
    ]);
    expect(section.layers[0]?.outline).toEqual([
      [10, 50],
      [20, 0],
      [100, 0],
      [110, 50],
    ]);
  });

  it('cuts off at the rim and says by how much', () => {
    const layers = [
      { name: 'soil', depthMm: 80 },
      { name: 'leaves', depthMm: 40 },
      { name: 'moss', depthMm: 10 },
    ];
    const section = sectionOf(cup, layers);
    expect(section).toMatchObject({ freeHeadMm: 0, overflowMm: 30 });
    expect(section.layers.map(({ name, toMm }) => [name, toMm])).toEqual([
      ['soil', 80],
      ['leaves', 100],
    ]);
  });
});

describe('labels beside a drawing', () => {
  it('stand where they want when there is room', () => {
    const labels = [
      { wantedY: 180, height: 20 },
      { wantedY: 60, height: 20 },
    ];
    expect(spreadLabels(labels, 0, 200, 4)).toEqual([170, 50]);
  });

  it('make way for one another and stay within the ends', () => {
    const labels = [190, 188, 186, 10].map((wantedY) => ({ wantedY, height: 30 }));
    const tops = spreadLabels(labels, 0, 200, 5);
    expect(tops).toEqual([170, 135, 100, 0]);
    for (const [i, top] of tops.entries()) {
      const below = tops[i - 1];
      if (below !== undefined) expect(top + 30 + 5).toBeLessThanOrEqual(below);
    }
  });

  it('break long words of a name into lines', () => {
    expect(wrapWords('Dry hardwood leaves', 12, 2)).toEqual(['Dry hardwood', 'leaves']);
    expect(wrapWords('Soil', 12, 2)).toEqual(['Soil']);
    expect(wrapWords('one two three four five six seven', 8, 2)).toEqual(['one two', 'three…']);
    expect(wrapWords('Unbreakablelongname', 8, 2)).toEqual(['Unbreak…']);
  });
});
