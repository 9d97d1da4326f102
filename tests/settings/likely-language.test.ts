import { expect, it } from 'vitest';
import { likelyLanguage } from '../../shared/settings/languages.ts';

// Unicode CLDR, likely subtags: the most spoken written language of a country.
it('is what most people of a country read, where customers can be written to in it', () => {
  expect(['DE', 'AT', 'CH', 'ES', 'MX', 'US', 'GB', 'FR', 'PL', '', 'x'].map(likelyLanguage)).toEqual([
    ...['de', 'de', 'de', 'es', 'es', 'en', 'en', 'en', 'en', 'en', 'en'],
  ]);
});
