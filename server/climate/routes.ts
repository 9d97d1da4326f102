import type { RouteTable } from '../plumbing/route-table.ts';
import { askKeeping, changeKeeping } from './keeping.ts';
import { showRoom } from './room.ts';
import { showClimate } from './rooms.ts';
import { makeSensor, stopSensor } from './sensors.ts';
import { addReading, bringReadings, takeOutReading } from './write.ts';

const nav = 'climate';
const upload = { maxBytes: 3_000_000 };

export const climateRoutes: RouteTable = [
  { method: 'GET', path: '/climate', access: 'helper', nav, handler: showClimate },
  { method: 'GET', path: '/climate/:id', access: 'helper', nav, handler: showRoom },
  { method: 'POST', path: '/climate/:id/readings', access: 'helper', nav, handler: addReading },
  {
    method: 'POST',
    path: '/climate/:id/readings/:reading/take-out',
    access: 'helper',
    nav,
    handler: takeOutReading,
  },
  { method: 'POST', path: '/climate/:id/file', access: 'helper', nav, upload, handler: bringReadings },
  { method: 'POST', path: '/climate/:id/sensors', access: 'owner', nav, handler: makeSensor },
  { method: 'GET', path: '/settings/readings', access: 'owner', nav: 'settings', handler: askKeeping },
  { method: 'POST', path: '/settings/readings', access: 'owner', nav: 'settings', handler: changeKeeping },
  { method: 'POST', path: '/climate/sensors/:id/stop', access: 'owner', nav, handler: stopSensor },
];
