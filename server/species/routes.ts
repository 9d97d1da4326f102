import type { RouteTable } from '../plumbing/route-table.ts';
import { askEditSpecies, askNewSpecies, showSafety } from './ask.ts';
import { saveCareTexts, showCareTexts, useCareTextAgain } from './care-texts.ts';
import { showSpecies, showSpeciesList } from './read.ts';
import { bringBackSpecies, retireSpecies } from './retire.ts';
import { addSpecies, saveSpecies } from './save.ts';
import { addStarterSet } from './starter-set.ts';

const nav = 'species';

export const speciesRoutes: RouteTable = [
  { method: 'GET', path: '/species', access: 'helper', nav, handler: showSpeciesList },
  { method: 'POST', path: '/species', access: 'owner', nav, handler: addSpecies },
  { method: 'GET', path: '/species/new', access: 'owner', nav, handler: askNewSpecies },
  { method: 'GET', path: '/species/safety', access: 'owner', nav, handler: showSafety },
  { method: 'POST', path: '/species/starter-set', access: 'owner', nav, handler: addStarterSet },
  { method: 'GET', path: '/species/:id', access: 'helper', nav, handler: showSpecies },
  { method: 'GET', path: '/species/:id/edit', access: 'owner', nav, handler: askEditSpecies },
  { method: 'POST', path: '/species/:id/edit', access: 'owner', nav, handler: saveSpecies },
  { method: 'GET', path: '/species/:id/care', access: 'owner', nav, handler: showCareTexts },
  { method: 'POST', path: '/species/:id/care', access: 'owner', nav, handler: saveCareTexts },
  { method: 'POST', path: '/species/:id/care/again', access: 'owner', nav, handler: useCareTextAgain },
  { method: 'POST', path: '/species/:id/retire', access: 'owner', nav, handler: retireSpecies },
  { method: 'POST', path: '/species/:id/bring-back', access: 'owner', nav, handler: bringBackSpecies },
];
