import type { ParcelWeight } from '../../shared/documents/parcel-weight.ts';
import { formatMass } from '../../shared/settings/units.ts';
import { framed, paragraph, row, stack } from './blocks.ts';
import type { Warnings } from './characters.ts';
import { dayWords } from './day-words.ts';
import { asPlaced, type Element, element } from './drawing.ts';
import type { Slab } from './flow.ts';
import { checkBox } from './marks.ts';
import type { PackingCustoms, PackingRule } from './packing-sheet-data.ts';
import { counted, speciesPieces, words } from './packing-style.ts';
import { HAIRLINE, HEAVY, mm } from './paper.ts';
import type { Reader } from './print-options.ts';

const heading = (said: string, widthPt: number, parent: Element, warnings: Warnings) =>
  paragraph([words(said, 'heading')], widthPt, element('H2', parent), warnings, {
    gapPt: 14,
    keepWithNext: true,
  });

/** Rules of movement and permits, each with a box to tick once its paper is in or its mark on the box. */
export function rulesToMind(
  rules: PackingRule[],
  widthPt: number,
  reader: Reader,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  if (rules.length === 0) return [];
  const section = element('Sect', parent);
  const head = heading('Permits and rules of movement', widthPt, section, warnings);
  const rows = rules.map((rule) => ruleRow(rule, widthPt, reader, section, warnings));
  const decides = 'Local law, the carrier and licensed practice decide.';
  return [
    ...head,
    ...rows,
    ...paragraph([words(decides, 'body')], widthPt, element('P', section), warnings, { gapPt: 4 }),
  ];
}

function ruleRow(
  rule: PackingRule,
  widthPt: number,
  reader: Reader,
  parent: Element,
  warnings: Warnings,
): Slab {
  const isBlock = rule.kind === 'block';
  const padPt = isBlock ? mm(3) : 0;
  const indent = isBlock ? 0 : 20;
  const about = rule.species.flatMap((name, index) => [
    words(index === 0 ? ' For ' : ', ', 'body'),
    words(name, 'latin'),
  ]);
  const pieces = [
    words(headOf(rule, reader), isBlock ? 'place' : 'strong'),
    words(rule.words === '' ? '' : ` ${rule.words}`, 'body'),
    ...about,
    words(`${about.length > 0 ? '.' : ''}${rule.source === '' ? '' : ` (${rule.source})`}`, 'body'),
  ].filter(({ text }) => text !== '');
  const text = stack(paragraph(pieces, widthPt - indent - 2 * padPt, element('P', parent), warnings));
  if (isBlock)
    return framed(text, widthPt, { padPt, stroke: { widthPt: HEAVY }, sides: 'all' }, { gapPt: 5 });
  return row(
    [
      { xPt: 0, content: tick() },
      { xPt: indent, content: text },
    ],
    { gapPt: 4 },
  );
}

function headOf(rule: PackingRule, reader: Reader): string {
  if (rule.kind === 'block') return `Does not leave. ${rule.name}:`;
  if (rule.kind === 'warning') return `Mind: ${rule.name}.`;
  const until =
    rule.expiresOn === null ? '' : `, valid until ${dayWords(rule.expiresOn, reader.locale, 'short')}`;
  return `Permit ${rule.number === '' ? 'without a number' : rule.number}${until}: ${rule.name}.`;
}

function tick(): Slab {
  return {
    heightPt: 16,
    gapPt: 0,
    keepWithNext: false,
    draw: (xPt, yPt) => asPlaced([checkBox(12, xPt + 0.5, yPt + 1.5)], null),
  };
}

/** What the parcel weighs as far as it is known, and room for what the scales say. */
export function weights(
  weight: ParcelWeight,
  widthPt: number,
  reader: Reader,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  const section = element('Sect', parent);
  const mass = (massG: number) => formatMass(massG, reader.units, reader.locale);
  const parts = weight.parts.map(
    ({ what, count, massG }) =>
      `${count === 1 ? '' : `${count} `}${what} ${massG === null ? 'not known' : mass(massG)}`,
  );
  const all = weight.unknown.length > 0 ? 'At least' : 'About';
  const known = weight.knownG > 0 ? `${all} ${mass(weight.knownG)}` : 'Not known yet';
  const sum = weight.parts.length === 0 ? 'Nothing of it is known.' : `${parts.join(', ')}.`;
  return [
    ...heading('Weight', widthPt, section, warnings),
    ...paragraph(
      [
        words(known, 'strong'),
        words(
          `${weight.knownG > 0 ? ' without padding and paper' : ''}. ${sum.replace(/^./, (c) => c.toUpperCase())} `,
          'body',
        ),
        words('On the scales: ____________', 'body'),
      ],
      widthPt,
      element('P', section),
      warnings,
    ),
  ];
}

/** What a customs form asks for, for the owner to check. */
export function customsLines(
  customs: PackingCustoms | null,
  widthPt: number,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  if (!customs) return [];
  const section = element('Sect', parent);
  const padPt = mm(3);
  const inside = widthPt - 2 * padPt;
  const text = (pieces: ReturnType<typeof words>[], gapPt = 2) =>
    paragraph(pieces, inside, element('P', section), warnings, { gapPt });
  const slabs = [
    ...paragraph(
      [words('Customs', 'heading'), words(`  from ${customs.from} to ${customs.to}`, 'body')],
      inside,
      element('H2', section),
      warnings,
      { keepWithNext: true },
    ),
    ...customs.contents.flatMap((each) =>
      text([
        words(`${counted(each.animals, 'live animal', 'live animals')}: `, 'body'),
        ...speciesPieces(each.scientificName, each.commonName),
        words(`, ${each.value}`, 'body'),
      ]),
    ),
    ...text([
      words(`Value of the contents: ${customs.value}. `, 'strong'),
      words(`Origin: ${customs.from}, bred in captivity.`, 'body'),
    ]),
    ...text([
      words(
        customs.heading === ''
          ? 'No heading of the Harmonized System is set: the owner or the customs office says which.'
          : `Heading of the Harmonized System, as the owner set it: ${customs.heading}.`,
        'body',
      ),
    ]),
    ...text([
      words('The owner checks this before it goes on a form: customs and veterinary law decide.', 'body'),
    ]),
  ];
  return [
    framed(stack(slabs), widthPt, { padPt, stroke: { widthPt: HAIRLINE }, sides: 'all' }, { gapPt: 12 }),
  ];
}
