import type { CareText, SpeciesFigures, SpeciesNames, SubstrateLayer } from './columns.ts';
import { capacityPerLitreBySize, defaultsFor } from './defaults.ts';

export type StarterSpecies = SpeciesNames & {
  figures: SpeciesFigures;
  /** Name of the starter enclosure a customer is told to build. */
  home: string;
  care: CareText;
  layers: readonly SubstrateLayer[];
  /** One caution a line. */
  cautions: string;
};

/** A species' own cautions. Those that hold for every species stand on every sheet and need not be repeated. */
const cautions = (...own: string[]) => own.join('\n');

const part = (material: string, parts: number, settling = 1) => ({ material, parts, settling });

const moistSoil = (depthMm: number): SubstrateLayer => ({
  name: 'Soil mix',
  depthMm,
  parts: [
    part('leaf compost, free of pesticide', 4, 0.9),
    part('soft white rotten hardwood, crumbled', 2, 0.85),
    part('coconut fibre', 2, 0.8),
    part('coarse sand', 1),
  ],
});

const leafCover = (depthMm: number): SubstrateLayer => ({
  name: 'Dry hardwood leaves',
  depthMm,
  parts: [part('dry hardwood leaves', 1, 0.5)],
});

/**
 * Species of the trade that a fresh installation can begin with. The care texts are our own; every figure is common
 * practice without a source, or from memory, and the owner's to change. Prices are left at nothing on purpose.
 */
export const starterSpecies: readonly StarterSpecies[] = [
  {
    scientificName: 'Armadillidium maculatum',
    commonName: 'zebra isopod',
    animalGroup: 'isopod',
    home: '6 litre box',
    figures: {
      ...defaultsFor('isopod'),
      growthPerWeekMedian: 0.07,
      capacityPerLitreMedian: capacityPerLitreBySize.medium,
      generationDays: 150,
    },
    layers: [moistSoil(55), leafCover(20)],
    care: {
      enclosure:
        'A shallow plastic box with a tight lid is enough. Give it holes with fine mesh on two opposite sides so that air moves through. Put a piece of cork bark on the dry half and a handful of moss on the damp half.',
      substrate:
        'The soil is home and larder in one. Mix leaf compost with rotten white wood and cover it with dry hardwood leaves. Add more leaves whenever you can see bare soil.',
      water:
        'Keep one third of the box damp and let the rest dry at the surface. Pour a little water into the damp corner instead of spraying everything. This species dies sooner from wet, stale air than from a dry week.',
      food: 'Leaves and rotten wood are the main meal and must never run out. Once a week offer a thin slice of vegetable and a pinch of fish food. Take out what is left after two days. A piece of cuttlefish bone gives them lime for their shells.',
      breeding:
        'Females carry their eggs in a pouch under the body and let tiny white young go. It takes about five months until those breed themselves. Leave a new group alone for its first two months.',
      temperature:
        'An ordinary warm living room suits them. Keep the box out of the sun: a closed box in the light of a window overheats within minutes.',
      normal:
        'They hide by day and roll up when touched. Now and then one is half pale and half dark, because the back is shed before the front. Springtails in the soil are helpers.',
      'not-normal':
        'Many animals crowding at the lid or the air holes: the box is too wet or too stale. A sour or rotten smell, or several dead at once: take out the food, open the lid for an hour and change the wet corner.',
    },
    cautions: cautions(
      'Mould on rotten wood and leaves can trigger allergies: air the room when you change substrate.',
    ),
  },
  {
    scientificName: 'Porcellio laevis',
    commonName: 'dairy cow isopod',
    animalGroup: 'isopod',
    home: '6 litre box',
    figures: {
      ...defaultsFor('isopod'),
      growthPerWeekMedian: 0.11,
      capacityPerLitreMedian: 15,
      detectionAlpha: 8,
      detectionBeta: 12,
      generationDays: 100,
      feedEveryDays: 4,
    },
    layers: [moistSoil(55), leafCover(20)],
    care: {
      enclosure:
        'A roomy, smooth-walled box with a tight lid keeps these fast climbers in. They need much air: large mesh windows on two sides. Stack a few pieces of bark, because they like to sit in layers.',
      substrate:
        'A deep mix of leaf compost and rotten wood under a thick cover of dry leaves. They eat through it quickly, so refill the leaves every few weeks.',
      water:
        'Keep about a third of the box damp, the rest dry. Water the same corner once or twice a week. The damp corner should feel like a wrung-out cloth.',
      food: 'These are big eaters. Besides leaves give vegetables twice a week and something with protein, such as fish food, once a week. Hungry groups nibble at freshly moulted ones, so never let the protein stop for long.',
      breeding:
        'They breed fast and in large broods once they are settled. Young ones become adult in about three months. When the box looks full, split it or sell some: crowding makes them stop.',
      temperature:
        'Room temperature is fine, and a little warmth makes them quicker. Protect them from sun and from the top of a heater.',
      normal:
        'They run rather than roll up, and they come out for food in daylight. Pale shed skins lie about and get eaten.',
      'not-normal':
        'Animals that lie on their backs, or gaps in many bodies: check water, air and protein in that order. Tiny white dots that crawl over the food are mites: take the food out and let the surface dry.',
    },
    cautions: cautions('Dust from old substrate can irritate the airways: damp it before you empty the box.'),
  },
  {
    scientificName: 'Porcellionides pruinosus',
    commonName: 'powder blue isopod',
    animalGroup: 'isopod',
    home: '6 litre box',
    figures: {
      ...defaultsFor('isopod'),
      growthPerWeekMedian: 0.14,
      capacityPerLitreMedian: 30,
      detectionAlpha: 7,
      detectionBeta: 13,
      generationDays: 80,
      lethalHighC: 38,
      safeHighC: 31,
      idealHighC: 28,
    },
    layers: [moistSoil(50), leafCover(20)],
    care: {
      enclosure:
        'Any box with a tight lid and mesh on two sides will do. Give flat pieces of bark to hide under. They are quick, so open the box over a tray.',
      substrate:
        'Leaf compost mixed with rotten wood, topped with dry leaves. A little sand keeps it open. Nothing needs to be sterile, but it must be free of pesticide.',
      water:
        'A damp corner and a dry corner are all they need. They forgive a dry spell better than a swamp. Water when the damp corner turns pale.',
      food: 'Leaves all the time, vegetables once or twice a week, a little fish food now and then. Offer small pieces that are gone by the next day.',
      breeding:
        'This is one of the quickest breeders. A young group becomes a busy colony in a few months. Take some out early rather than late.',
      temperature:
        'They do well from a cool room to a warm one and breed faster in the warmth. Keep them out of the sun.',
      normal:
        'A dusty bloom that rubs off when they are handled, and animals that scatter in all directions when the lid is lifted. They live about a year, so single old ones die.',
      'not-normal':
        'No young for two months in a warm box, or a heap of animals at one air hole. Look first at air, then at water, then at food.',
    },
    cautions: cautions(
      'They run up hands and sleeves: close the lid between two handfuls so that none escapes.',
    ),
  },
  {
    scientificName: 'Trichorhina tomentosa',
    commonName: 'dwarf white isopod',
    animalGroup: 'isopod',
    home: '1 litre tub',
    figures: {
      ...defaultsFor('isopod'),
      groupAdults: 20,
      groupJuveniles: 0,
      groupExtras: 4,
      growthPerWeekMedian: 0.12,
      capacityPerLitreMedian: capacityPerLitreBySize.small,
      detectionAlpha: 3,
      detectionBeta: 17,
      reserveAnimals: 30,
      femaleShare: 1,
      startMales: 0,
      startFemales: 2,
      generationDays: 70,
      lethalLowC: 5,
      safeLowC: 12,
      idealLowC: 22,
      idealHighC: 28,
      safeHighC: 31,
      lethalHighC: 36,
    },
    layers: [moistSoil(45), leafCover(15)],
    care: {
      enclosure:
        'A small tub with a few pin holes is enough, because they need little air and much moisture. A lid that closes well matters more than size.',
      substrate:
        'Soft, fine and damp all through: leaf compost with crumbled rotten wood and some coconut fibre. They live inside it and are seldom seen on top.',
      water:
        'Keep the whole soil damp, never flooded. Water along the wall so that it runs down into the mix. If the surface turns pale it is time.',
      food: 'Rotten leaves and wood make up most of it. A pinch of fish food or a thin slice of vegetable under a leaf once a week is plenty.',
      breeding:
        'All are females and need no male. A single handful of soil with a dozen animals starts a new colony. Young appear within weeks.',
      temperature: 'They like it warm and steady. A cool room slows them to a standstill.',
      normal:
        'You see almost none until you lift a leaf. They are white, slow and no longer than a grain of rice. Small numbers at the wall already mean a good colony.',
      'not-normal':
        'Dry, shrunken animals at the bottom, or a strong earthy smell gone sour. Water or air is wrong: mend that first and wait two weeks.',
    },
    cautions: cautions(
      'They settle in any damp pot: keep them away from house plants you sell or give away.',
    ),
  },
  {
    scientificName: 'Folsomia candida',
    commonName: 'white springtail',
    animalGroup: 'springtail',
    home: '1 litre tub',
    figures: defaultsFor('springtail'),
    layers: [
      { name: 'Washed clay balls', depthMm: 20, parts: [part('washed clay balls', 1)] },
      {
        name: 'Soil mix',
        depthMm: 40,
        parts: [part('leaf compost, free of pesticide', 2, 0.9), part('crumbled charcoal', 1)],
      },
    ],
    care: {
      enclosure:
        'A clear tub with a tight lid and a few pin holes. Open it twice a week for a moment: that is air enough. Leave half of it free above the soil so that you can tip animals out.',
      substrate:
        'Clay balls or charcoal with damp compost between them. The gaps are where they live. Rinse new material before use.',
      water:
        'Everything must be damp and a little water may stand between the clay balls. They drown only when there is nowhere to climb. Use rain water or water that has stood overnight.',
      food: 'A few grains of dry yeast or rice once a week. Give the next portion only when the last has gone, or it turns mouldy.',
      breeding:
        'Nearly all are females that lay eggs without a male. Eggs hatch in a week or two. A spoonful from a full tub starts the next one.',
      temperature:
        'Ordinary room temperature is right. Warmth shortens their lives, frost kills most of them.',
      normal:
        'White specks that cover the food and float on water. A little mould on the food is eaten within a few days.',
      'not-normal':
        'Fewer on the food every week, or round shiny dots that walk slowly: those are mites. Start a clean tub from a few animals floated on water and throw the old one away.',
    },
    cautions: cautions('Dry yeast dust can irritate the nose: open the jar away from your face.'),
  },
  {
    scientificName: 'Blaptica dubia',
    commonName: 'dubia roach',
    animalGroup: 'roach',
    home: '45 litre box',
    figures: { ...defaultsFor('roach'), groupAdults: 12, groupJuveniles: 12, startFemales: 4 },
    layers: [
      {
        name: 'Dry leaf and bran litter',
        depthMm: 30,
        parts: [part('crumbled dry leaves', 2, 0.6), part('wheat bran', 1, 0.9)],
      },
    ],
    care: {
      enclosure:
        'A tall smooth box they cannot climb, with a mesh window in the lid. Stand cardboard egg trays upright in it: that is where they sit. Keep the box dark.',
      substrate:
        'A thin dry litter is enough for the young to dig in; many keepers use none. What counts is that droppings stay dry. Clean out half at a time, so that the smallest are not thrown away.',
      water:
        'They drink from juicy food or water crystals. Never use an open bowl, the young drown. The box itself stays dry.',
      food: 'Dry food such as ground cereal with some protein is always there. Give carrot, squash or orange two or three times a week and take it out before it spoils.',
      breeding:
        'Females carry their eggs inside and give birth to live young. Three or four females to one male is a good start. From birth to adult takes about half a year in the warmth.',
      temperature:
        'They need warmth to breed. Warm one side of the box from outside with a mat on a thermostat, and measure inside. In a cool room they live but do not breed.',
      normal:
        'Adult males have long wings and hardly use them. Freshly moulted ones are white for some hours. Dead old adults now and then are part of it.',
      'not-normal':
        'A sharp smell of ammonia, damp cartons, or nymphs that die while moulting. Dry the box out, change the cartons and give more juicy food.',
    },
    cautions: cautions(
      'Droppings and shed skins trigger allergies and asthma in some people. Wear gloves and a dust mask when you clean, damp the dust, and stop if your eyes or chest itch.',
      'A heat mat without a thermostat can start a fire or kill the colony. Follow its maker’s instructions.',
    ),
  },
  {
    scientificName: 'Pachnoda marginata',
    commonName: 'sun beetle',
    animalGroup: 'beetle',
    home: '12 litre box',
    figures: { ...defaultsFor('beetle'), idealLowC: 23 },
    layers: [
      {
        name: 'Grub soil',
        depthMm: 85,
        parts: [
          part('leaf compost, free of pesticide', 3, 0.9),
          part('soft white rotten hardwood, crumbled', 2, 0.85),
          part('crumbled dry hardwood leaves', 2, 0.6),
        ],
      },
      leafCover(15),
    ],
    care: {
      enclosure:
        'A box at least as deep as a hand, with a mesh window in the lid. Grubs need depth, beetles need free space above for a branch and a food dish.',
      substrate:
        'The grubs eat what they live in: leaf compost, rotten wood and crumbled leaves. When it looks like a heap of dark pellets, change half of it. Handle cocoons of soil as if they were eggs.',
      water:
        'Damp enough to hold together when pressed in the hand, with no water dripping. Water the soil, not the beetles.',
      food: 'Beetles eat ripe soft fruit; change it every second day. Grubs live on the soil, and a piece of carrot or a few pellets of fish food pushed into it speeds them up.',
      breeding:
        'Beetles lay into the soil all the time. A grub takes a few months, builds a hard egg-shaped shell of soil, and stays in it for weeks. Do not dig during that time.',
      temperature: 'Warm and bright by day, room temperature at night. They fly more the warmer it is.',
      normal:
        'Grubs crawl on their backs when laid on a table. Beetles bury themselves for days. The soil sinks because it is being eaten.',
      'not-normal':
        'Grubs lying on the surface: the soil is used up, too wet or without air. Flabby, dark grubs or a foul smell: take healthy ones into fresh soil at once.',
    },
    cautions: cautions(
      'Beetle grubs of this family eat plant roots: plant-pest rules apply to them in many places.',
      'Large grubs can nip: lift them with a spoon.',
    ),
  },
  {
    scientificName: 'Drosophila hydei',
    commonName: 'flightless fruit fly',
    animalGroup: 'fly',
    home: '1 litre jar',
    figures: defaultsFor('fly'),
    layers: [
      {
        name: 'Fly food, boiled and cooled',
        depthMm: 30,
        parts: [
          part('mashed potato flakes', 4, 0.6),
          part('oat flakes', 2, 0.6),
          part('sugar', 1, 0.6),
          part('brewer’s yeast', 1, 0.6),
        ],
      },
    ],
    care: {
      enclosure:
        'A clean jar closed with fabric or foam that lets air through and flies not. Wood wool or crumpled paper above the food gives them a place to sit and to pupate.',
      substrate:
        'A thick mash that does not run when the jar is tipped. Pour hot water over the dry parts, stir, let it cool, then add a pinch of yeast. A splash of vinegar slows mould.',
      water:
        'The mash holds all the water they need. If it shrinks from the wall, add a teaspoon. If it swims, put in dry paper.',
      food: 'They eat the mash and the yeast that grows on it. Nothing else is given. Dust flies with minerals only when they are fed out.',
      breeding:
        'Start each jar with about fifty flies. New flies come after two to three weeks and go on for some weeks. Begin a new jar every week and throw jars away after about a month.',
      temperature:
        'Room temperature. In a cool room they take much longer; in a hot one they become few, and some flightless strains fly again.',
      normal: 'Maggots in the mash, brown cases on the wall and the paper, a smell of yeast and fruit.',
      'not-normal':
        'Fine grey dust that moves on the rim: mites. Close the jar in a bag and bin it, and start from a clean one. Green mould over the whole mash: too few flies at the start.',
    },
    cautions: cautions(
      'Flies and mites escape: stand jars on separate trays, newest handled first, oldest last.',
      'The mash is boiling hot when it is made: let it cool out of reach.',
    ),
  },
  {
    scientificName: 'Chelifer cancroides',
    commonName: 'house pseudoscorpion',
    animalGroup: 'pseudoscorpion',
    home: '1 litre tub',
    figures: defaultsFor('pseudoscorpion'),
    layers: [
      {
        name: 'Dry soil mix',
        depthMm: 30,
        parts: [part('leaf compost, free of pesticide', 2, 0.9), part('coarse sand', 1)],
      },
      {
        name: 'Bark pieces',
        depthMm: 20,
        parts: [part('flat pieces of dry bark', 1, 0.5)],
      },
    ],
    care: {
      enclosure:
        'A small tub with a lid that shuts without a gap: they are flat and slip through anything. A few pin holes are air enough. Loose bark in layers is their home.',
      substrate:
        'A finger of dry soil with sand, and bark stacked on it. They live between the pieces, not in the soil.',
      water: 'Dry with one slightly damp corner. A few drops once a week are enough. Wet bark kills them.',
      food: 'They hunt small soft animals: springtails, booklice, tiny flies. Put in a few springtails twice a week, and more when none are left. They do no harm to anything larger.',
      breeding:
        'Females carry their eggs under the belly and shut themselves into a silk cell. Leave cells alone. Growing up takes the better part of a year.',
      temperature: 'An ordinary room suits them all year round. A cool winter does no harm.',
      normal:
        'Hours without a movement, then a quick walk backwards. White silk cells under the bark with an animal inside, for moulting, for young or for rest.',
      'not-normal':
        'Limp animals lying in the open, mould on the bark, or feeders that pile up uneaten. Dry the tub out and take out half the feeders.',
    },
    cautions: cautions(
      'They are arachnids: postal and airline rules on spiders and scorpions can be read to include them. Ask the carrier first.',
    ),
  },
  {
    scientificName: 'Chicobolus spinigerus',
    commonName: 'ivory millipede',
    animalGroup: 'millipede',
    home: '12 litre box',
    figures: defaultsFor('millipede'),
    layers: [
      {
        name: 'Millipede soil',
        depthMm: 85,
        parts: [
          part('leaf compost, free of pesticide', 3, 0.9),
          part('soft white rotten hardwood, crumbled', 3, 0.85),
          part('crumbled dry hardwood leaves', 2, 0.6),
          part('crushed limestone', 0.5),
        ],
      },
      leafCover(20),
    ],
    care: {
      enclosure:
        'A box at least as long as the animal and half as wide, with a good lid. The soil should be about as deep as the animal is long. Leave room above the leaves for a piece of bark.',
      substrate:
        'Rotten wood and leaves are most of their diet, so the soil is the food. Mix in some lime for their shells. Top up leaves and wood before you can see it shrink.',
      water:
        'Damp all through, airy, never muddy. Spray the leaves lightly and let the top dry between times.',
      food: 'Leaves and wood always. Cucumber, squash or mushroom once a week in a dish, taken out after a day or two.',
      breeding:
        'Eggs lie deep in the soil and young stay down for months. Do not dig for them. From egg to adult takes more than a year.',
      temperature:
        'Warm room temperature. They stop eating when it is cool, and heat from below drives them out of the soil.',
      normal:
        'Weeks underground to moult, and rings of pale droppings. They curl up when touched and may leave a brown stain on the hand.',
      'not-normal':
        'An animal that lies stretched out on the surface and hardly moves, or a smell of rot. Check damp and air, and never pull at one that is moulting.',
    },
    cautions: cautions(
      'When disturbed they give off a fluid that stains and burns: wear gloves, keep hands away from your eyes, rinse with plenty of water and see a doctor if it gets into an eye.',
      'They eat plant matter: plant-pest rules apply to millipedes in some places.',
    ),
  },
];
