import { substrateMix } from '../../shared/species/substrate.ts';
import type { CareSheetData } from '../../views/documents/care-sheet-data.ts';
import { cubaris, scaber } from './sample-orders.ts';

const box = { shape: 'box' as const, lengthMm: 300, widthMm: 200, heightMm: 200 };
const layers = [
  {
    name: 'Base layer of clay pebbles',
    depthMm: 20,
    parts: [{ material: 'expanded clay', parts: 1, settling: 1 }],
  },
  {
    name: 'Substrate',
    depthMm: 70,
    parts: [
      { material: 'flake soil', parts: 5, settling: 0.85 },
      { material: 'leaf mould', parts: 3, settling: 0.7 },
      { material: 'white-rotten wood', parts: 1, settling: 0.9 },
      { material: 'crushed cuttlebone', parts: 0.2, settling: 1 },
    ],
  },
  {
    name: 'Leaf litter',
    depthMm: 25,
    parts: [{ material: 'oak and beech leaves', parts: 1, settling: 0.3 }],
  },
];
const mix = substrateMix({ enclosure: box, layers, enclosures: 1, spare: 0 });

/** Care words of our own, from common practice; no source. */
export const care: CareSheetData = {
  language: 'en',
  inEnglish: [],
  terms: {},
  scientificName: scaber.scientificName,
  commonName: scaber.commonName,
  enclosure: {
    name: 'Plastic box with a clip lid',
    measures: box,
    layers: layers.map(({ name, depthMm }) => ({ name, depthMm })),
    freeHeadMm: mix.freeHeadMm,
    ventilation: 'holes in the lid',
    moistSide: 'left',
  },
  recipe: mix.layers,
  text: {
    enclosure:
      'A clear box with a tight lid. Give them pieces of bark to hide under and leave the leaves loose: most of the animals live under both. Keep the box out of the sun, where it is neither hot nor cold.',
    substrate: 'Mix it moist: a handful pressed hard should hold together and let no water go.',
    water:
      'Pour a little water into the moss on the moist side when it begins to dry, about once a week. The other side may dry on top. Water must never stand in the box.',
    food: 'Leaves are the main food and must never run out. Once a week a piece of vegetable the size of a thumbnail, and a pinch of fish food. Take out what is left after two days. A piece of cuttlebone stays in the box always.',
    breeding:
      'Nothing to do but wait. Females carry their eggs in a pouch under the body. The white young leave it after four to six weeks and hide in the substrate for months.',
    temperature: 'Room temperature suits them. They bear a cool winter.',
    normal:
      'They sit under bark by day. They shed the skin in two halves, so that for a day the back half looks pale. Small white springtails keep the box clean: leave them in.',
    'not-normal':
      'Many animals at the lid or on the walls: too wet, or bad air. Animals that lie on their backs: act at once, open the lid, look at the moisture. A sour smell: take out the old food and the wet substrate.',
  },
  cautions: ['Keep the box where small children and pets cannot open it.'],
  limits: scaber.limits,
  batch: {
    cultureCode: 'PSC-014',
    line: 'Dalmatian 2',
    packedOn: '2026-11-11',
    orderNumber: '2026-0147',
    customerName: 'Mara Ilvane',
  },
};

const cup = { shape: 'frustum' as const, topDiameterMm: 115, bottomDiameterMm: 88, heightMm: 140 };
const cupLayers = [
  {
    name: 'Substrate',
    depthMm: 60,
    parts: [
      { material: 'flake soil', parts: 2, settling: 0.85 },
      { material: 'coconut fibre', parts: 1, settling: 0.8 },
    ],
  },
  { name: 'Moss', depthMm: 15, parts: [{ material: 'sphagnum moss', parts: 1, settling: 0.5 }] },
];
const cupMix = substrateMix({ enclosure: cup, layers: cupLayers, enclosures: 1, spare: 0 });

/** A short text and a round cup. */
export const cupCare: CareSheetData = {
  ...care,
  scientificName: cubaris.scientificName,
  commonName: cubaris.commonName,
  enclosure: {
    name: '1 litre cup',
    measures: cup,
    layers: cupLayers.map(({ name, depthMm }) => ({ name, depthMm })),
    freeHeadMm: cupMix.freeHeadMm,
    ventilation: 'mesh in two sides',
    moistSide: 'none',
  },
  recipe: cupMix.layers,
  text: {
    ...care.text,
    breeding: 'They breed by themselves.',
    enclosure: 'A cup is enough for a dozen.',
    temperature: '',
  },
  cautions: [],
  limits: cubaris.limits,
  batch: { cultureCode: 'CMU-003', line: '', packedOn: '2026-11-11', orderNumber: '', customerName: '' },
};
