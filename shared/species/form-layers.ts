import { readTyped } from '../settings/typed-number.ts';
import {
  type FieldUnit,
  keptUnlessChanged,
  shownInField,
  shownNumber,
  storedFromField,
} from '../settings/typed-units.ts';
import type { SubstrateLayer } from './columns.ts';

export const mostLayers = 8;
export const mostParts = 10;

/** A layer as it was typed: whatever stands in the fields, right or wrong. */
export type TypedLayer = { name: string; depth: string; parts: TypedPart[] };
export type TypedPart = { material: string; parts: string; settles: string };

/** Names of the fields of layer i and its part j, both counted from 1, the layers from the bottom up. */
export const layerFields = {
  name: (i: number) => `layer${i}Name`,
  depth: (i: number) => `layer${i}Depth`,
  partRows: (i: number) => `layer${i}PartRows`,
  material: (i: number, j: number) => `layer${i}Part${j}Material`,
  parts: (i: number, j: number) => `layer${i}Part${j}Parts`,
  settles: (i: number, j: number) => `layer${i}Part${j}Settles`,
};

const emptyPart: TypedPart = { material: '', parts: '', settles: '' };
export const emptyLayer: TypedLayer = { name: '', depth: '', parts: [emptyPart] };

type Values = Record<string, unknown>;

const textOf = (values: Values, name: string) => {
  const value = values[name];
  return typeof value === 'string' ? value.trim() : '';
};

const rowsOf = (values: Values, name: string, most: number) => {
  const rows = Number(textOf(values, name));
  return Number.isInteger(rows) ? Math.min(most, Math.max(0, rows)) : 0;
};

/** The rows of a form that was sent. */
export function typedLayers(values: Values): TypedLayer[] {
  return Array.from({ length: rowsOf(values, 'layerRows', mostLayers) }, (_, index) => {
    const i = index + 1;
    return {
      name: textOf(values, layerFields.name(i)),
      depth: textOf(values, layerFields.depth(i)),
      parts: Array.from({ length: rowsOf(values, layerFields.partRows(i), mostParts) }, (_, at) => ({
        material: textOf(values, layerFields.material(i, at + 1)),
        parts: textOf(values, layerFields.parts(i, at + 1)),
        settles: textOf(values, layerFields.settles(i, at + 1)),
      })),
    };
  });
}

const shownParts = (parts: number) => shownNumber(parts, 3);
const shownSettling = (settling: number) => shownNumber(settling * 100, 1);

/** The rows a form shows for stored layers; settling is shown in percent of the loose volume. */
export function shownLayers(layers: readonly SubstrateLayer[], length: FieldUnit): TypedLayer[] {
  return layers.map(({ name, depthMm, parts }) => ({
    name,
    depth: shownInField(depthMm, length),
    parts: parts.map((part) => ({
      material: part.material,
      parts: shownParts(part.parts),
      settles: shownSettling(part.settling),
    })),
  }));
}

/**
 * Layers in one line, from the floor up, so that two people's can be told apart: name, depth, what each is mixed of.
 *
 * @example layersInWords([{ name: 'Base', depth: '50', parts: [{ material: 'sand', parts: '2', settles: '100' }] }])
 * // 'Base, 50: 2 sand (100 %)'
 */
export const layersInWords = (layers: readonly TypedLayer[]): string =>
  layers
    .map(({ name, depth, parts }) => {
      const mixed = parts.filter(({ material }) => material.trim() !== '');
      const of = mixed.map(
        (part) => `${part.parts.trim()} ${part.material.trim()} (${part.settles.trim()} %)`,
      );
      return `${name.trim()}, ${depth.trim()}: ${of.join(', ')}`;
    })
    .join('; ');

/**
 * The rows after a button was pressed: 'add-layer', 'add-part-2' (to layer 2), 'raise-2' (change places with the
 * layer above) or 'drop-2'. Anything else leaves them as they are.
 */
export function changeRows(layers: readonly TypedLayer[], change: string): TypedLayer[] {
  const rows = layers.map((layer) => ({ ...layer, parts: [...layer.parts] }));
  if (change === 'add-layer') return rows.length < mostLayers ? [...rows, emptyLayer] : rows;
  const [, verb, number] = /^(add-part|raise|drop)-(\d+)$/.exec(change) ?? [];
  const index = Number(number) - 1;
  const row = rows[index];
  if (!row) return rows;
  if (verb === 'drop') return rows.filter((_, i) => i !== index);
  if (verb === 'add-part' && row.parts.length < mostParts) row.parts.push(emptyPart);
  const above = rows[index + 1];
  if (verb === 'raise' && above) rows.splice(index, 2, above, row);
  return rows;
}

export type ReadLayers = { layers: SubstrateLayer[]; errors: Record<string, string> };

type Part = SubstrateLayer['parts'][number];
type Place = { i: number; j: number; errors: ReadLayers['errors']; before: Part | undefined };

function readPart(typed: TypedPart, { i, j, errors, before }: Place): Part {
  const { material } = typed;
  const parts = readTyped(typed.parts);
  const settles = typed.settles === '' ? 100 : readTyped(typed.settles);
  if (material === '') errors[layerFields.material(i, j)] = 'Say which material.';
  else if (material.length > 80) errors[layerFields.material(i, j)] = 'Must be 80 characters or fewer.';
  if (parts === null || parts <= 0 || parts > 1000)
    errors[layerFields.parts(i, j)] = 'Write how many parts, such as 2.';
  if (settles === null || settles < 5 || settles > 100)
    errors[layerFields.settles(i, j)] = 'Must be between 5 and 100.';
  return {
    material,
    parts: keptUnlessChanged(parts ?? 0, before?.parts ?? null, shownParts, (n) => n),
    settling: keptUnlessChanged(settles ?? 100, before?.settling ?? null, shownSettling, (n) => n / 100),
  };
}

const isEmptyPart = (part: TypedPart) => part.material === '' && part.parts === '';

/**
 * The layers that were typed, and what is wrong with them by field name. Rows left empty are left out; a depth that
 * still says what it showed for the layer of the same place keeps its value.
 */
export function readLayers(
  rows: readonly TypedLayer[],
  length: FieldUnit,
  before: readonly SubstrateLayer[] = [],
): ReadLayers {
  const errors: ReadLayers['errors'] = {};
  const layers: SubstrateLayer[] = [];
  for (const [index, row] of rows.entries()) {
    const i = index + 1;
    if (row.name === '' && row.depth === '' && row.parts.every(isEmptyPart)) continue;
    if (row.name === '') errors[layerFields.name(i)] = 'Give the layer a name.';
    else if (row.name.length > 80) errors[layerFields.name(i)] = 'Must be 80 characters or fewer.';
    const depth = readTyped(row.depth);
    if (depth === null || depth <= 0) errors[layerFields.depth(i)] = 'Write how deep the layer is.';
    const parts = row.parts.flatMap((part, at) =>
      isEmptyPart(part) ? [] : [readPart(part, { i, j: at + 1, errors, before: before[index]?.parts[at] })],
    );
    if (parts.length === 0) errors[layerFields.material(i, 1)] ??= 'Say what the layer is made of.';
    const depthMm = storedFromField(depth ?? 0, length, before[index]?.depthMm ?? null);
    if (depthMm > 2000) errors[layerFields.depth(i)] = 'Too deep for any enclosure: check the unit.';
    layers.push({ name: row.name, depthMm, parts });
  }
  return { layers, errors };
}
