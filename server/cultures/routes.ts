import type { RouteTable } from '../plumbing/route-table.ts';
import { correctDiary, showEntry, withdrawFromDiary } from './entry.ts';
import { showCultures } from './list.ts';
import { showCulture } from './page.ts';
import { addNewCulture, askEditCulture, askNewCulture, saveCulture } from './write.ts';
import { askWrite, saveWritten } from './write-diary.ts';

const nav = 'cultures';

export const cultureRoutes: RouteTable = [
  { method: 'GET', path: '/cultures', access: 'helper', nav, handler: showCultures },
  { method: 'GET', path: '/cultures/new', access: 'helper', nav, handler: askNewCulture },
  { method: 'POST', path: '/cultures', access: 'helper', nav, handler: addNewCulture },
  { method: 'GET', path: '/cultures/:code', access: 'helper', nav, handler: showCulture },
  { method: 'GET', path: '/cultures/:code/edit', access: 'helper', nav, handler: askEditCulture },
  { method: 'POST', path: '/cultures/:code/edit', access: 'helper', nav, handler: saveCulture },
  { method: 'GET', path: '/cultures/:code/write', access: 'helper', nav, handler: askWrite },
  { method: 'POST', path: '/cultures/:code/write', access: 'helper', nav, handler: saveWritten },
  { method: 'GET', path: '/cultures/:code/diary/:id', access: 'helper', nav, handler: showEntry },
  { method: 'POST', path: '/cultures/:code/diary/:id', access: 'helper', nav, handler: correctDiary },
  {
    method: 'POST',
    path: '/cultures/:code/diary/:id/withdraw',
    access: 'helper',
    nav,
    handler: withdrawFromDiary,
  },
];
