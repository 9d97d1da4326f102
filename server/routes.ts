import { arrivalRoutes } from './arrivals/routes.ts';
import { backupRoutes } from './backups/routes.ts';
import { calendarRoutes } from './calendar/routes.ts';
import { checkRoutes } from './checks/routes.ts';
import { climateRoutes } from './climate/routes.ts';
import { countRoutes } from './counts/routes.ts';
import { cultureRoutes } from './cultures/routes.ts';
import { customerRoutes } from './customers/routes.ts';
import { developmentRoutes } from './development/routes.ts';
import { documentRoutes } from './documents/routes.ts';
import { enclosureRoutes } from './enclosures/routes.ts';
import { feederRoutes } from './feeders/routes.ts';
import { invoiceRoutes } from './invoices/routes.ts';
import { labelRoutes } from './labels/routes.ts';
import { lineRoutes } from './lines/routes.ts';
import { mailRoutes } from './mails/routes.ts';
import { movementRoutes } from './movement/routes.ts';
import { offerRoutes } from './offers/routes.ts';
import { orderRoutes } from './orders/routes.ts';
import { parcelRoutes } from './parcels/routes.ts';
import { peopleRoutes } from './people/routes.ts';
import { placeRoutes } from './places/routes.ts';
import type { RouteTable } from './plumbing/route-table.ts';
import { recordRoutes } from './records/routes.ts';
import { searchRoutes } from './search/routes.ts';
import { settingsRoutes } from './settings/routes.ts';
import { speciesRoutes } from './species/routes.ts';
import { splitRoutes } from './splits/routes.ts';
import { substrateRoutes } from './substrate/routes.ts';
import { surplusRoutes } from './surplus/routes.ts';
import { traceRoutes } from './traces/routes.ts';
import { waitingRoutes } from './waiting/routes.ts';
import { workingRoutes } from './workings/routes.ts';

/** Every address the service answers, feature by feature. */
export const routes: RouteTable = [
  ...searchRoutes,
  ...cultureRoutes,
  ...checkRoutes,
  ...waitingRoutes,
  ...workingRoutes,
  ...countRoutes,
  ...splitRoutes,
  ...substrateRoutes,
  ...traceRoutes,
  ...surplusRoutes,
  ...feederRoutes,
  ...climateRoutes,
  ...customerRoutes,
  ...orderRoutes,
  ...arrivalRoutes,
  ...offerRoutes,
  ...invoiceRoutes,
  ...parcelRoutes,
  ...movementRoutes,
  ...mailRoutes,
  ...documentRoutes,
  ...calendarRoutes,
  ...peopleRoutes,
  ...recordRoutes,
  ...settingsRoutes,
  ...backupRoutes,
  ...enclosureRoutes,
  ...placeRoutes,
  ...labelRoutes,
  ...lineRoutes,
  ...speciesRoutes,
  ...developmentRoutes,
];
