import type { RouteTable } from '../plumbing/route-table.ts';
import { addLine, askEditLine, askNewLine, saveLine } from './edit.ts';
import { showGraph } from './graph.ts';
import { showLines } from './list.ts';
import { askMixing, saveMixing } from './mixing.ts';

const nav = 'species';

export const lineRoutes: RouteTable = [
  { method: 'GET', path: '/lines', access: 'helper', nav, handler: showLines },
  { method: 'POST', path: '/lines', access: 'owner', nav, handler: addLine },
  { method: 'GET', path: '/lines/graph', access: 'helper', nav, handler: showGraph },
  { method: 'GET', path: '/lines/new', access: 'owner', nav, handler: askNewLine },
  { method: 'GET', path: '/lines/:id/edit', access: 'owner', nav, handler: askEditLine },
  { method: 'POST', path: '/lines/:id/edit', access: 'owner', nav, handler: saveLine },
  { method: 'GET', path: '/cultures/:code/mixing', access: 'helper', nav: 'cultures', handler: askMixing },
  { method: 'POST', path: '/cultures/:code/mixing', access: 'helper', nav: 'cultures', handler: saveMixing },
];
