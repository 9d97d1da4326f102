import { describe, expect, it } from 'vitest';
import { enclosureNamed } from '../../server/enclosures/queries.ts';
import { readCare, readLayers, speciesNamed } from '../../server/species/queries.ts';
import { insertStarterSet } from '../../server/species/queries-starter-set.ts';
import { starterEnclosures } from '../../shared/enclosures/starter-set.ts';
import { measuresOf, volumeLitres } from '../../shared/enclosures/volume.ts';
import { standingCautions } from '../../shared/species/cautions.ts';
import { careHeadings } from '../../shared/species/columns.ts';
import { scientificNameFor } from '../../shared/species/common-names.ts';
import { starterSpecies } from '../../shared/species/starter-set.ts';
import { substrateMix } from '../../shared/species/substrate.ts';
import { testApp } from '../support/test-app.ts';

const homeOf = (name: string) => {
  const home = starterEnclosures.find((enclosure) => enclosure.name === name);
  if (!home) throw new Error(`no starter enclosure ${name}`);
  return home;
};

describe('the starter set', () => {
  it('names each species once, and its common name leads back to it', () => {
    const names = starterSpecies.map((species) => species.scientificName);
    expect(new Set(names).size).toBe(names.length);
    expect(names.length).toBeGreaterThanOrEqual(8);
    for (const { scientificName, commonName } of starterSpecies) {
      if (scientificName === 'Drosophila hydei') continue; // "flightless fruit fly" may be either of two species
      expect(scientificNameFor(commonName), commonName).toBe(scientificName);
    }
  });

  it.each(starterSpecies.map((species) => [species.scientificName, species] as const))(
    'has a whole care text for %s',
    (_name, { care, cautions }) => {
      for (const heading of careHeadings) {
        const sentences = care[heading].split(/(?<=[.!?])\s+/).filter(Boolean);
        expect(sentences.length, heading).toBeGreaterThanOrEqual(1);
        expect(sentences.length, heading).toBeLessThanOrEqual(5);
        for (const sentence of sentences) expect(sentence.length, sentence).toBeLessThanOrEqual(170);
        // Measures come from the figures, in the reader's own units.
        expect(care[heading]).not.toMatch(/\d\s?(°|cm|mm|ml|litre|inch|g\b)/);
      }
      expect(cautions.trim()).not.toBe('');
      for (const standing of standingCautions) expect(cautions).not.toContain(standing);
    },
  );

  it.each(starterSpecies.map((species) => [species.scientificName, species] as const))(
    'has layers for %s that fit its home and are mixed to the litre',
    (_name, { home, layers }) => {
      const enclosure = homeOf(home);
      const measures = measuresOf(enclosure);
      const mix = substrateMix({
        enclosure: measures,
        layers: layers.map((layer) => ({ ...layer })),
        enclosures: 1,
        spare: 0,
      });
      expect(mix.freeHeadMm).toBeGreaterThan(0);
      const deepMm = layers.reduce((sum, layer) => sum + layer.depthMm, 0);
      const litres = mix.layers.reduce((sum, layer) => sum + layer.litres, 0);
      expect(litres).toBeCloseTo(volumeLitres(measures, deepMm), 9);
    },
  );

  it('holds in each enclosure about what its name says', () => {
    for (const enclosure of starterEnclosures) {
      const said = Number.parseInt(enclosure.name, 10);
      expect(volumeLitres(measuresOf(enclosure)), enclosure.name).toBeGreaterThan(said * 0.95);
      expect(volumeLitres(measuresOf(enclosure)), enclosure.name).toBeLessThan(said * 1.05);
    }
  });

  it('goes into the database whole, and a second time adds nothing', async () => {
    const { db } = await testApp();
    expect(insertStarterSet(db)).toMatchObject({
      speciesIds: { length: starterSpecies.length },
      enclosureIds: { length: starterEnclosures.length },
    });
    for (const { scientificName, figures, care, layers, home } of starterSpecies) {
      const row = speciesNamed(db, scientificName);
      expect(row).toMatchObject({ ...figures, homeEnclosureId: enclosureNamed(db, home)?.id });
      expect(readCare(db, row?.id ?? 0)).toEqual(care);
      expect(readLayers(db, row?.id ?? 0)).toEqual(layers);
    }
    expect(insertStarterSet(db)).toEqual({ speciesIds: [], enclosureIds: [] });
  });
});
