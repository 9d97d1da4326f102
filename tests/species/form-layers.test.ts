import { describe, expect, it } from 'vitest';
import type { SubstrateLayer } from '../../shared/species/columns.ts';
import {
  changeRows,
  layerFields,
  mostLayers,
  readLayers,
  shownLayers,
  type TypedLayer,
  typedLayers,
} from '../../shared/species/form-layers.ts';

const stored: SubstrateLayer[] = [
  {
    name: 'Soil',
    depthMm: 55,
    parts: [
      { material: 'compost', parts: 4, settling: 0.9 },
      { material: 'sand', parts: 1 / 3, settling: 5 / 7 },
    ],
  },
  { name: 'Leaves', depthMm: 20, parts: [{ material: 'leaves', parts: 1, settling: 0.5 }] },
];

/** The rows as the fields of a form send them. */
function asFields(rows: readonly TypedLayer[]): Record<string, string> {
  const fields: Record<string, string> = { layerRows: String(rows.length) };
  for (const [index, row] of rows.entries()) {
    const i = index + 1;
    fields[layerFields.name(i)] = row.name;
    fields[layerFields.depth(i)] = row.depth;
    fields[layerFields.partRows(i)] = String(row.parts.length);
    for (const [at, part] of row.parts.entries()) {
      fields[layerFields.material(i, at + 1)] = part.material;
      fields[layerFields.parts(i, at + 1)] = part.parts;
      fields[layerFields.settles(i, at + 1)] = part.settles;
    }
  }
  return fields;
}

const row = (name: string, depth: string, material = 'soil', parts = '1', settles = ''): TypedLayer => ({
  name,
  depth,
  parts: [{ material, parts, settles }],
});

describe('the rows of the layers', () => {
  it.each(['mm', 'in'] as const)('saved unchanged in %s move nothing', (unit) => {
    const rows = typedLayers(asFields(shownLayers(stored, unit)));
    expect(readLayers(rows, unit, stored)).toEqual({ layers: stored, errors: {} });
  });

  it('read what is typed, and leave out what is empty', () => {
    const rows = [
      row('', '', '', ''),
      row('Soil', '2 1/2', 'compost', '3', '80'),
      row('Moss', '1', 'moss', '0,5'),
    ];
    expect(readLayers(rows, 'in')).toEqual({
      errors: {},
      layers: [
        { name: 'Soil', depthMm: 63.5, parts: [{ material: 'compost', parts: 3, settling: 0.8 }] },
        { name: 'Moss', depthMm: 25.4, parts: [{ material: 'moss', parts: 0.5, settling: 1 }] },
      ],
    });
  });

  it('say beside the field what is wrong', () => {
    const rows = [
      row('', 'deep', '', '2', '0'),
      row('Soil', '5', 'compost', 'much', '120'),
      { name: 'Moss', depth: '2500', parts: [] },
    ];
    expect(readLayers(rows, 'mm').errors).toEqual({
      layer1Name: 'Give the layer a name.',
      layer1Depth: 'Write how deep the layer is.',
      layer1Part1Material: 'Say which material.',
      layer1Part1Settles: 'Must be between 5 and 100.',
      layer2Part1Parts: 'Write how many parts, such as 2.',
      layer2Part1Settles: 'Must be between 5 and 100.',
      layer3Depth: 'Too deep for any enclosure: check the unit.',
      layer3Part1Material: 'Say what the layer is made of.',
    });
  });

  it('grow, change places and go at the press of a button', () => {
    const two = [row('Soil', '5'), row('Leaves', '2')];
    expect(changeRows(two, 'add-layer').map((r) => r.name)).toEqual(['Soil', 'Leaves', '']);
    expect(changeRows(two, 'add-part-2')[1]?.parts).toHaveLength(2);
    expect(changeRows(two, 'raise-1').map((r) => r.name)).toEqual(['Leaves', 'Soil']);
    expect(changeRows(two, 'raise-2')).toEqual(two);
    expect(changeRows(two, 'drop-1').map((r) => r.name)).toEqual(['Leaves']);
    for (const nonsense of ['', 'drop-9', 'drop-0', 'raise', 'add-part-2; DROP TABLE'])
      expect(changeRows(two, nonsense), nonsense).toEqual(two);
  });

  it('never grow beyond what a form can hold, whatever it claims', () => {
    const most = Array.from({ length: mostLayers }, () => row('Soil', '5'));
    expect(changeRows(most, 'add-layer')).toHaveLength(mostLayers);
    expect(typedLayers({ layerRows: '1000000', layer1PartRows: '-3' })).toHaveLength(mostLayers);
    expect(typedLayers({ layerRows: 'many' })).toEqual([]);
    expect(typedLayers({})).toEqual([]);
  });
});
