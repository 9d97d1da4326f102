import type { RouteTable } from '../plumbing/route-table.ts';
import { askPlan, cancelPlan, finishPlan, resumePlan, savePlan } from './plan.ts';
import { showStart } from './start.ts';
import { takeSplitBack } from './take-back.ts';
import { askSplit, saveSplit } from './write.ts';

export const splitRoutes: RouteTable = [
  { method: 'GET', path: '/cultures/:code/split', access: 'helper', nav: 'cultures', handler: askSplit },
  { method: 'POST', path: '/cultures/:code/split', access: 'helper', nav: 'cultures', handler: saveSplit },
  {
    method: 'GET',
    path: '/cultures/:code/split/start',
    access: 'helper',
    nav: 'cultures',
    handler: showStart,
  },
  {
    method: 'POST',
    path: '/cultures/:code/splits/:id/back',
    access: 'helper',
    nav: 'cultures',
    handler: takeSplitBack,
  },
  { method: 'GET', path: '/cultures/:code/plan', access: 'helper', nav: 'cultures', handler: askPlan },
  { method: 'POST', path: '/cultures/:code/plan', access: 'helper', nav: 'cultures', handler: savePlan },
  { method: 'POST', path: '/plans/:id/cancel', access: 'helper', nav: 'cultures', handler: cancelPlan },
  { method: 'POST', path: '/plans/:id/done', access: 'helper', nav: 'cultures', handler: finishPlan },
  { method: 'POST', path: '/plans/:id/resume', access: 'helper', nav: 'cultures', handler: resumePlan },
];
