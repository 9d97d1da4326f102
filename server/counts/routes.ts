import { mostPhotoBytes } from '../plumbing/prepare-photo.ts';
import type { RouteTable } from '../plumbing/route-table.ts';
import { acceptDetection, showDetection } from './detection.ts';
import { askHabits, changeHabits } from './habits.ts';
import { askPhoto, askTaps, showPhoto, takePhoto } from './photo.ts';
import { askCatches, askTally, saveCatch, saveTally } from './tally.ts';
import { askCount, saveCount } from './write.ts';

export const countRoutes: RouteTable = [
  { method: 'GET', path: '/cultures/:code/count', access: 'helper', nav: 'cultures', handler: askCount },
  { method: 'POST', path: '/cultures/:code/count', access: 'helper', nav: 'cultures', handler: saveCount },
  { method: 'GET', path: '/cultures/:code/tally', access: 'helper', nav: 'cultures', handler: askTally },
  { method: 'POST', path: '/cultures/:code/tally', access: 'helper', nav: 'cultures', handler: saveTally },
  { method: 'GET', path: '/cultures/:code/catches', access: 'helper', nav: 'cultures', handler: askCatches },
  { method: 'POST', path: '/cultures/:code/catches', access: 'helper', nav: 'cultures', handler: saveCatch },
  { method: 'GET', path: '/cultures/:code/photo', access: 'helper', nav: 'cultures', handler: askPhoto },
  {
    method: 'POST',
    path: '/cultures/:code/photo',
    access: 'helper',
    nav: 'cultures',
    upload: { maxBytes: mostPhotoBytes },
    handler: takePhoto,
  },
  { method: 'GET', path: '/cultures/:code/photo/:id', access: 'helper', nav: 'cultures', handler: askTaps },
  { method: 'GET', path: '/photos/:id.jpg', access: 'helper', handler: showPhoto },
  { method: 'GET', path: '/species/:id/detection', access: 'helper', nav: 'species', handler: showDetection },
  {
    method: 'POST',
    path: '/species/:id/detection',
    access: 'owner',
    nav: 'species',
    handler: acceptDetection,
  },
  { method: 'GET', path: '/settings/counting', access: 'owner', nav: 'settings', handler: askHabits },
  { method: 'POST', path: '/settings/counting', access: 'owner', nav: 'settings', handler: changeHabits },
];
