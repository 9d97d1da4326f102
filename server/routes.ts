import { customerRoutes } from './customers/routes.ts';
import type { RouteTable } from './plumbing/route-table.ts';

/** Every address the service answers, feature by feature. */
export const routes: RouteTable = [...customerRoutes];
