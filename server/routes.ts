import { customerRoutes } from './customers/routes.ts';
import { peopleRoutes } from './people/routes.ts';
import type { RouteTable } from './plumbing/route-table.ts';
import { settingsRoutes } from './settings/routes.ts';

/** Every address the service answers, feature by feature. */
export const routes: RouteTable = [...customerRoutes, ...peopleRoutes, ...settingsRoutes];
