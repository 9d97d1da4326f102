import { speakerFor } from '../words/speaker.ts';
import { framed, paragraph, row, stack } from './blocks.ts';
import { boxDrawing, boxInWords } from './box-drawing.ts';
import type { Warnings } from './characters.ts';
import { dayWords } from './day-words.ts';
import { type Element, element } from './drawing.ts';
import type { Slab } from './flow.ts';
import type { PackingPack, PackingParcel } from './packing-parcel-data.ts';
import { type BenchStyle, words } from './packing-style.ts';
import { HEAVY, mm } from './paper.ts';
import type { Reader } from './print-options.ts';

/** The box as it is packed: drawn, with what goes in and where the pack sits. */
export function boxAndPack(
  parcel: PackingParcel,
  widthPt: number,
  reader: Reader,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  const section = element('Sect', parent);
  const heading = paragraph([words('Box and pack', 'heading')], widthPt, element('H2', section), warnings, {
    gapPt: 14,
    keepWithNext: true,
  });
  const gap = mm(5);
  const factsPt = widthPt * 0.34 - gap;
  const figure = element('Figure', section, { alt: boxInWords(parcel, reader) });
  const drawing = boxDrawing(parcel, widthPt * 0.66, reader, figure, warnings);
  const facts = stack(
    factsOf(parcel, reader).flatMap(([what, said, style]) => [
      ...paragraph([words(what, 'label')], factsPt, element('P', section), warnings, {
        gapPt: 4,
        keepWithNext: true,
      }),
      ...paragraph([words(said, style)], factsPt, element('P', section), warnings),
    ]),
  );
  const body = row(
    [
      { xPt: 0, content: drawing },
      { xPt: widthPt - factsPt, content: facts },
    ],
    { gapPt: 4 },
  );
  return [...heading, ...refusals(parcel, widthPt, reader, section, warnings), body];
}

type Fact = [what: string, said: string, style: BenchStyle];

function factsOf(parcel: PackingParcel, reader: Reader): Fact[] {
  const { inside, pack, isHeld, otherDay } = parcel;
  const length = (lengthMm: number) => speakerFor(reader).length(lengthMm, reader.units);
  const measures = [inside.lengthMm, inside.widthMm, inside.heightMm].map(length).join(' × ');
  const facts: Fact[] = [
    ['Box', `${parcel.boxName} (${measures} inside)`, 'strong'],
    ['Pack', packSaid(pack), 'strong'],
  ];
  if (pack?.startAt && pack.place.ok) facts.push(['Start the heat pack', pack.startAt, 'strong']);
  facts.push(
    isHeld
      ? ['Held for pickup', 'Mark the label; the customer collects it the same day.', 'body']
      : ['To the door', 'Somebody takes it in; not left in sun or frost.', 'body'],
  );
  if (otherDay !== null) {
    const day = dayWords(otherDay, reader.locale, 'short');
    facts.push(['Worked out for another day', `${day}: choose box and pack anew.`, 'strong']);
  }
  return [...facts, ['Carrier', parcel.carrier, 'body'], ['Decided', parcel.chosen, 'label']];
}

function packSaid(pack: PackingPack | null): string {
  if (!pack) return 'None. Put none in: in mild weather a heat pack kills.';
  if (!pack.place.ok) return `${pack.count} × ${pack.name}: does not go in, see above`;
  return `${pack.count} × ${pack.name}`;
}

/** Why a pack or the cups do not go into the box; words that cannot be passed over. */
function whyNotPacked(parcel: PackingParcel, reader: Reader): string[] {
  const { pack, standing, boxName } = parcel;
  const speaker = speakerFor(reader);
  const said: string[] = [];
  if (standing && !standing.fits)
    said.push(
      standing.why === 'cup too large'
        ? `The cup “${standing.name}” does not fit into the box “${boxName}”. Take a larger box.`
        : `The cups do not all fit upright into the box “${boxName}”. Take a larger box or two parcels.`,
    );
  if (!pack || pack.place.ok) return said;
  const { why, has, needs } = pack.place;
  const kind = pack.effect === 'warms' ? 'heat pack' : 'cold pack';
  const volume = (litres: number) => speaker.volume(litres, reader.units);
  const length = (lengthMm: number) => speaker.length(lengthMm, reader.units);
  const reasons = {
    'box too small': `it needs a box of ${volume(needs)}, this one holds ${volume(has)}`,
    'too many packs': `${needs} were chosen and a box bears ${has} of them`,
    'no room over the cups': `it needs ${length(needs)} of room and air over the cups, and there are ${length(has)}`,
    'cups do not fit': 'the cups alone fill the box',
  };
  return [
    ...said,
    `No ${kind} in the box “${boxName}”: ${reasons[why]}. Take a larger box, or let it wait. The curve below counts on the pack.`,
  ];
}

function refusals(
  parcel: PackingParcel,
  widthPt: number,
  reader: Reader,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  const said = whyNotPacked(parcel, reader);
  if (said.length === 0) return [];
  const padPt = mm(3);
  const lines = said.flatMap((text) =>
    paragraph([words(text, 'place')], widthPt - 2 * padPt, element('P', parent), warnings, { gapPt: 3 }),
  );
  return [
    framed(
      stack(lines),
      widthPt,
      { padPt, stroke: { widthPt: HEAVY }, sides: 'all' },
      { gapPt: 4, keepWithNext: true },
    ),
  ];
}
