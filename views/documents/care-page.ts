import { speakerFor } from '../words/speaker.ts';
import { framed, paragraph, row, stack } from './blocks.ts';
import { enclosureDrawing, measuresInWords, sectionInWords } from './care-enclosure.ts';
import { recipeTable } from './care-recipe.ts';
import { type CareSheetData, langOfPart, type Said, termOf } from './care-sheet-data.ts';
import { type CareStyles, careStyles, piece } from './care-style.ts';
import { bodySlabs, careSection, TEXT_HEADINGS, twoColumns } from './care-text.ts';
import { careTitle } from './care-title.ts';
import type { Warnings } from './characters.ts';
import { type Element, element } from './drawing.ts';
import { heightOf, type Slab } from './flow.ts';
import { bulletList } from './lists.ts';
import { HEAVY, mm } from './paper.ts';
import type { PrintOptions } from './print-options.ts';
import { limitsInWords, temperatureScale } from './temperature-scale.ts';

/** How large a sheet is set: the body's type and the room of the drawing. */
export interface CareFit {
  bodyPt: number;
  drawingPt: number;
  /** No section runs on into the second column. */
  whole: boolean;
}

export interface CareContent {
  /** Everything but the cautions, from the top. */
  main: Slab[];
  /** Stand at the foot of the page. */
  cautions: Slab;
  heightPt: number;
}

/** Everything on a care sheet, set at one size. */
export function careContent(
  sheet: CareSheetData,
  widthPt: number,
  fit: CareFit,
  options: PrintOptions,
  parent: Element,
  warnings: Warnings,
): CareContent {
  const styles = careStyles(fit.bodyPt);
  const gapPt = fit.bodyPt * 1.25;
  const main = [
    careTitle(sheet, widthPt, options, parent, warnings),
    { ...setUp(sheet, widthPt, fit, styles, options, parent, warnings), gapPt },
    { ...temperature(sheet, widthPt, styles, options, parent, warnings), gapPt },
    { ...columns(sheet, widthPt, fit, styles, options, parent, warnings), gapPt },
  ];
  const cautions = { ...cautionBox(sheet, widthPt, styles, options, parent, warnings), gapPt };
  return { main, cautions, heightPt: heightOf([...main, cautions]) };
}

/** The drawn section on the left, what to mix for it on the right. */
function setUp(
  sheet: CareSheetData,
  widthPt: number,
  fit: CareFit,
  styles: CareStyles,
  options: PrintOptions,
  parent: Element,
  warnings: Warnings,
): Slab {
  const between = mm(7);
  const leftPt = widthPt * 0.57;
  const rightPt = widthPt - leftPt - between;
  const { enclosure } = sheet;
  const left = element('Sect', parent);
  const speaker = speakerFor(options);
  const name = termOf(sheet, enclosure.name);
  const caption = [name.text, measuresInWords(enclosure.measures, options)].filter((each) => each !== '');
  const drawn = [
    ...headed(speaker.say('care.setUp'), leftPt, styles, left, warnings),
    ...paragraph(
      [piece(speaker.say('care.drawn', { what: caption.join(': ') }), styles.small)],
      leftPt,
      element('P', left),
      warnings,
    ),
    {
      ...enclosureDrawing(
        sheet,
        { widthPt: leftPt, heightPt: fit.drawingPt },
        options,
        styles,
        element('Figure', left, { alt: sectionInWords(sheet, options) }),
        warnings,
      ),
      gapPt: 8,
    },
  ];
  const right = element('Sect', parent);
  const mixed = [
    ...headed(speaker.say('care.recipe'), rightPt, styles, right, warnings),
    ...paragraph([piece(speaker.say('care.loose'), styles.small)], rightPt, element('P', right), warnings),
    { ...stack(recipeTable(sheet, rightPt, options, styles, right, warnings)), gapPt: 3 },
    ...bodySlabs(partOf(sheet, 'substrate'), rightPt, styles, right, warnings).map((slab, index) =>
      index === 0 ? { ...slab, gapPt: 5 } : slab,
    ),
  ];
  return row([
    { xPt: 0, content: stack(drawn) },
    { xPt: leftPt + between, content: stack(mixed) },
  ]);
}

const partOf = (sheet: CareSheetData, heading: 'substrate' | 'temperature'): Said => ({
  text: sheet.text[heading],
  lang: langOfPart(sheet, heading),
});

function headed(
  text: string,
  widthPt: number,
  styles: CareStyles,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  return paragraph([piece(text, styles.heading)], widthPt, element('H2', parent), warnings);
}

function temperature(
  sheet: CareSheetData,
  widthPt: number,
  styles: CareStyles,
  options: PrintOptions,
  parent: Element,
  warnings: Warnings,
): Slab {
  const speaker = speakerFor(options);
  const section = element('Sect', parent);
  const title = headed(speaker.say('care.temperature'), widthPt, styles, section, warnings);
  const limits = limitsInWords(sheet.limits, options);
  const scale = temperatureScale(
    sheet.limits,
    {
      widthPt,
      barPt: 9,
      figurePt: styles.body.sizePt * 1.1,
      wordPt: styles.small.sizePt,
      reader: options,
    },
    element('Figure', section, { alt: speaker.say('temperatures.scale', { limits }) }),
    warnings,
  );
  const text = bodySlabs(partOf(sheet, 'temperature'), widthPt, styles, section, warnings);
  return stack([
    ...title,
    { ...scale, gapPt: 4 },
    ...text.map((slab, index) => (index === 0 ? { ...slab, gapPt: 4 } : slab)),
  ]);
}

function columns(
  sheet: CareSheetData,
  widthPt: number,
  fit: CareFit,
  styles: CareStyles,
  options: PrintOptions,
  parent: Element,
  warnings: Warnings,
): Slab {
  const gapPt = mm(7);
  const columnPt = (widthPt - gapPt) / 2;
  const sections = TEXT_HEADINGS.map((heading) =>
    careSection(heading, sheet, columnPt, styles, speakerFor(options), parent, warnings),
  );
  return twoColumns(sections, widthPt, gapPt, fit.whole);
}

/** The cautions that hold for every captive invertebrate, and need not be written for each. */
const STANDING = ['care.noRelease', 'care.wash', 'care.law'] as const;

function cautionBox(
  sheet: CareSheetData,
  widthPt: number,
  styles: CareStyles,
  options: PrintOptions,
  parent: Element,
  warnings: Warnings,
): Slab {
  const speaker = speakerFor(options);
  const padPt = mm(2.6);
  const inside = widthPt - 2 * padPt;
  const section = element('Sect', parent);
  const title = headed(speaker.say('care.cautions'), inside, styles, section, warnings);
  const lang = langOfPart(sheet, 'cautions');
  const items = [
    ...sheet.cautions.filter((each) => each.trim() !== '').map((text) => ({ text, lang })),
    ...STANDING.map((key) => ({ text: speaker.say(key) })),
  ];
  const list = bulletList(items, inside, styles.body, section, warnings, styles.body.sizePt * 0.15);
  return framed(stack([...title, ...list]), widthPt, { padPt, stroke: { widthPt: HEAVY }, sides: 'all' });
}
