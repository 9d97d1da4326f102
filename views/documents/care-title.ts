import { speakerFor } from '../words/speaker.ts';
import { type Frame, framed, paragraph, row, stack } from './blocks.ts';
import { type CareBatch, type CareSheetData, langOfPart } from './care-sheet-data.ts';
import { LEAST_BODY_PT, sayPiece } from './care-style.ts';
import type { Warnings } from './characters.ts';
import { type Element, element } from './drawing.ts';
import type { Slab } from './flow.ts';
import { type Piece, shrinkToLine } from './lines.ts';
import { mm, RULE } from './paper.ts';
import type { PrintOptions } from './print-options.ts';

const LABEL_PT = mm(60);

/** The names of the species, and the label of the batch that is in the box. */
export function careTitle(
  sheet: CareSheetData,
  widthPt: number,
  options: PrintOptions,
  parent: Element,
  warnings: Warnings,
): Slab {
  const labelPt = sheet.batch ? LABEL_PT : 0;
  const namePt = widthPt - labelPt - (sheet.batch ? mm(6) : 0);
  const speaker = speakerFor(options);
  const lang = langOfPart(sheet, 'name');
  const latinStyle = { face: 'italic', sizePt: 15, lang: 'la' } as const;
  const common = sheet.commonName === '' ? sheet.scientificName : sheet.commonName;
  const commonStyle = { face: 'bold', sizePt: 27, leading: 1.15 } as const;
  const nameLang = sheet.commonName === '' ? 'la' : lang;
  const name: Piece[] = [sayPiece({ text: common, lang: nameLang }, commonStyle)];
  const latin: Piece[] = sheet.commonName === '' ? [] : [{ text: sheet.scientificName, style: latinStyle }];
  const kicker: Piece = { text: speaker.say('care.title'), style: { face: 'regular', sizePt: 11 } };
  const names = stack([
    ...paragraph([kicker], namePt, element('P', parent), warnings),
    ...paragraph(shrinkToLine(name, namePt, 0.6, warnings), namePt, element('H1', parent), warnings),
    ...(latin.length === 0
      ? []
      : paragraph(shrinkToLine(latin, namePt, 0.7, warnings), namePt, element('P', parent), warnings)),
  ]);
  if (!sheet.batch) return names;
  const label = batchLabel(sheet.batch, options, element('P', parent), warnings);
  return row([
    { xPt: 0, content: names },
    { xPt: widthPt - LABEL_PT, content: label },
  ]);
}

/** Culture, line and day, as a label in its double line. */
function batchLabel(batch: CareBatch, options: PrintOptions, owner: Element, warnings: Warnings): Slab {
  const speaker = speakerFor(options);
  const padPt = mm(2.6);
  const inside = LABEL_PT - 2 * padPt;
  const small = { face: 'regular' as const, sizePt: LEAST_BODY_PT + 0.5, leading: 1.25 };
  const code: Piece = { text: batch.cultureCode, style: { face: 'monoBold', sizePt: 16, leading: 1.2 } };
  const lines = [
    batch.line === '' ? '' : speaker.say('care.line', { line: batch.line }),
    speaker.say('care.packed', { day: speaker.day(batch.packedOn, 'short') }),
    options.businessName,
  ].filter((line) => line !== '');
  const content = stack([
    ...paragraph(
      [
        ...shrinkToLine([code], inside, 0.55, warnings),
        { text: '\n', style: small },
        { text: lines.join('\n'), style: small },
      ],
      inside,
      owner,
      warnings,
    ),
  ]);
  const frame: Frame = { padPt, stroke: { widthPt: RULE * 1.4 }, sides: 'all', innerPt: 2.2 };
  return framed(content, LABEL_PT, frame);
}
