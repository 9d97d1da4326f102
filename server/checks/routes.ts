import type { RouteTable } from '../plumbing/route-table.ts';
import { liveRound, showRows } from './live.ts';
import { markManyWell, undoMany } from './many.ts';
import { showMap } from './map.ts';
import { showPaper } from './paper.ts';
import { askPutOff, savePutOff, undoPutOff } from './put-off.ts';
import { markAllWell, showRound } from './round.ts';
import { askStartPutOff, saveStartPutOff, undoStartPutOff } from './starts.ts';
import { askCheck, saveCheck } from './write.ts';

export const checkRoutes: RouteTable = [
  { method: 'GET', path: '/round', access: 'helper', nav: 'round', handler: showRound },
  { method: 'GET', path: '/round/live', access: 'helper', nav: 'round', handler: liveRound },
  { method: 'GET', path: '/round/map', access: 'helper', nav: 'round', handler: showMap },
  { method: 'GET', path: '/round/paper', access: 'helper', nav: 'round', handler: showPaper },
  { method: 'GET', path: '/round/rows', access: 'helper', nav: 'round', handler: showRows },
  { method: 'POST', path: '/round/all-well', access: 'helper', nav: 'round', handler: markManyWell },
  { method: 'POST', path: '/round/undo', access: 'helper', nav: 'round', handler: undoMany },
  { method: 'POST', path: '/round/put-offs/:id/undo', access: 'helper', nav: 'round', handler: undoPutOff },
  {
    method: 'GET',
    path: '/round/starts/:id/put-off',
    access: 'helper',
    nav: 'round',
    handler: askStartPutOff,
  },
  {
    method: 'POST',
    path: '/round/starts/:id/put-off',
    access: 'helper',
    nav: 'round',
    handler: saveStartPutOff,
  },
  {
    method: 'POST',
    path: '/round/start-put-offs/:id/undo',
    access: 'helper',
    nav: 'round',
    handler: undoStartPutOff,
  },
  { method: 'GET', path: '/cultures/:code/put-off', access: 'helper', nav: 'round', handler: askPutOff },
  { method: 'POST', path: '/cultures/:code/put-off', access: 'helper', nav: 'round', handler: savePutOff },
  { method: 'GET', path: '/cultures/:code/check', access: 'helper', nav: 'round', handler: askCheck },
  { method: 'POST', path: '/cultures/:code/check', access: 'helper', nav: 'round', handler: saveCheck },
  { method: 'POST', path: '/cultures/:code/all-well', access: 'helper', nav: 'round', handler: markAllWell },
];
