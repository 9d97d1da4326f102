import { framed, paragraph, row, stack } from './blocks.ts';
import type { Warnings } from './characters.ts';
import { dayWords } from './day-words.ts';
import { type Element, element } from './drawing.ts';
import type { Slab } from './flow.ts';
import { bulletList } from './lists.ts';
import type { PackingOverride, PackingSpecies } from './packing-sheet-data.ts';
import { BENCH, speciesPieces, words } from './packing-style.ts';
import { HAIRLINE, HEAVY, mm } from './paper.ts';
import type { Reader } from './print-options.ts';
import { limitsInWords, temperatureScale } from './temperature-scale.ts';

/** What each species in the box bears, and what to mind with it. */
export function speciesLimits(
  species: PackingSpecies[],
  widthPt: number,
  reader: Reader,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  if (species.length === 0) return [];
  const heading = paragraph(
    [words('Limits and cautions', 'heading')],
    widthPt,
    element('H2', parent),
    warnings,
    { gapPt: 16, keepWithNext: true },
  );
  return [...heading, ...species.map((each) => speciesRow(each, widthPt, reader, parent, warnings))];
}

function speciesRow(
  species: PackingSpecies,
  widthPt: number,
  reader: Reader,
  parent: Element,
  warnings: Warnings,
): Slab {
  const gap = mm(6);
  const left = widthPt * 0.44;
  const right = widthPt - left - gap;
  const section = element('Sect', parent);
  const name = paragraph(
    speciesPieces(species.scientificName, species.commonName, 'strong'),
    widthPt,
    element('H3', section),
    warnings,
    { keepWithNext: true },
  );
  const limits = limitsInWords(species.limits, reader);
  const figure = element('Figure', section, { alt: `Temperature scale. ${limits}` });
  const scale = temperatureScale(
    species.limits,
    { widthPt: left, barPt: 9, figurePt: 11, wordPt: 0, reader },
    figure,
    warnings,
  );
  const inWords = paragraph([words(limits, 'body')], left, element('P', section), warnings, { gapPt: 3 });
  const cautions = bulletList(species.cautions, right, BENCH.body, section, warnings);
  const content = stack([
    ...name,
    row(
      [
        { xPt: 0, content: stack([{ ...scale, keepWithNext: true }, ...inWords]) },
        { xPt: left + gap, content: stack(cautions) },
      ],
      { gapPt: 5 },
    ),
  ]);
  return framed(content, widthPt, { padPt: 7, padXPt: 0, stroke: { widthPt: HAIRLINE }, sides: 'top' });
}

/** What the owner decided against the tool's refusal, with the reason, so that the packer knows. */
export function overrideList(
  overrides: PackingOverride[],
  widthPt: number,
  reader: Reader,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  if (overrides.length === 0) return [];
  const padPt = mm(3);
  const inside = widthPt - 2 * padPt;
  const section = element('Sect', parent);
  const title = paragraph([words('Overrides', 'heading')], inside, element('H2', section), warnings, {
    keepWithNext: true,
  });
  const each = overrides.flatMap((override) => {
    const owner = element('P', section);
    const who = `${override.byName}, ${dayWords(override.on, reader.locale, 'short')}`;
    return paragraph(
      [words(override.what, 'strong'), words(`. Reason: ${override.reason} (${who})`, 'body')],
      inside,
      owner,
      warnings,
      { gapPt: 3 },
    );
  });
  const frame = { padPt, stroke: { widthPt: HEAVY }, sides: 'all' as const };
  return [framed(stack([...title, ...each]), widthPt, frame, { gapPt: 12 })];
}
