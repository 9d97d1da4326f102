import type { AnimalGroup } from '../species/columns.ts';

/** How a cup is aired and what lies around the animals in it. */
export interface CupNotes {
  ventilation: string;
  padding: string;
}

/** Room over the cups for a pack and its air, until the owner says otherwise; common practice, no source. */
export const usualRoomForPackMm = 40;

/** Notes to begin with, by group: common practice, no source. The owner's own words come first. */
export const usualNotes: Record<AnimalGroup, CupNotes> = {
  isopod: {
    ventilation: 'A few pin holes in the lid, smaller than the young.',
    padding: 'Moist, not wet, moss or leaves up to the lid, so that nothing rolls about.',
  },
  springtail: {
    ventilation: 'Closed lid: they leave through any hole, and the air in the cup lasts them.',
    padding: 'Damp charcoal or soil; no water that can run.',
  },
  pseudoscorpion: {
    ventilation: 'Pin holes or fine mesh in the lid.',
    padding: 'Crumbs of bark to hide in, barely damp.',
  },
  roach: {
    ventilation: 'Pin holes in the lid, smaller than the young.',
    padding: 'Egg carton or paper to hold on to, dry.',
  },
  beetle: {
    ventilation: 'Pin holes in the lid.',
    padding: 'Damp paper around adults; grubs in their own substrate, pressed firm.',
  },
  millipede: {
    ventilation: 'Pin holes in the lid.',
    padding: 'Moist substrate or moss up to the lid; no stones.',
  },
  mantid: {
    ventilation: 'Mesh or pin holes in the lid.',
    padding: 'One to a cup: they eat each other. Paper to hold on to, nothing that can fall.',
  },
  fly: {
    ventilation: 'Foam plug or fine mesh in the lid: a culture needs air.',
    padding: 'Medium that does not run; upright on the way.',
  },
  other: {
    ventilation: 'Pin holes in the lid, smaller than the animals.',
    padding: 'Moist, not wet, moss or paper up to the lid, so that nothing rolls about.',
  },
};
