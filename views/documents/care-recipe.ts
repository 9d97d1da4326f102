import { speakerFor } from '../words/speaker.ts';
import { framed, paragraph, row, stack } from './blocks.ts';
import { type CareSheetData, termOf } from './care-sheet-data.ts';
import { type CareStyles, piece, sayPiece } from './care-style.ts';
import type { Warnings } from './characters.ts';
import { type Element, element } from './drawing.ts';
import type { Slab } from './flow.ts';
import type { Piece } from './lines.ts';
import { HAIRLINE } from './paper.ts';
import type { Reader } from './print-options.ts';

const VOLUME_SHARE = 0.34;

/** What to mix for one enclosure: a table with the layers in the order of the drawing, the uppermost first. */
export function recipeTable(
  sheet: CareSheetData,
  widthPt: number,
  reader: Reader,
  styles: CareStyles,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  const { recipe } = sheet;
  if (recipe.length === 0) return [];
  const speaker = speakerFor(reader);
  const table = element('Table', parent);
  const volumePt = widthPt * VOLUME_SHARE;
  const line = (name: Piece, value: Piece, indentPt: number): Slab => {
    const entry = element('TR', table);
    const cell = element('P', element('TH', entry, { scope: 'Row' }));
    const figure = element('P', element('TD', entry));
    const namePt = widthPt - volumePt - indentPt - 4;
    return row([
      { xPt: indentPt, content: stack(paragraph([name], namePt, cell, warnings)) },
      {
        xPt: widthPt - volumePt,
        content: stack(paragraph([value], volumePt, figure, warnings, { align: 'right' })),
      },
    ]);
  };
  const volume = (litres: number) => speaker.volume(litres, reader.units);
  const bold = { ...styles.figure, face: 'bold' as const };
  return [...recipe]
    .reverse()
    .map((layer) =>
      framed(
        stack([
          line(
            sayPiece(termOf(sheet, layer.name), styles.strong),
            piece(speaker.say('care.fills', { volume: volume(layer.litres) }), styles.figure),
            0,
          ),
          ...layer.materials.map((part) =>
            line(sayPiece(termOf(sheet, part.material), styles.body), piece(volume(part.litres), bold), 8),
          ),
        ]),
        widthPt,
        { padPt: 3, padXPt: 0, stroke: { widthPt: HAIRLINE }, sides: 'top' },
      ),
    );
}
