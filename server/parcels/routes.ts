import { keptRoutes } from '../plumbing/kept-pages.ts';
import type { RouteTable } from '../plumbing/route-table.ts';
import { keptBoxes } from './box.ts';
import { keptCarriers } from './carriers.ts';
import { changeWay, chooseParcel, holdParcel, letParcelGo, takeBackChoice } from './choose-parcel.ts';
import { addArea, changeParcelHabits, removeArea, showCarriers } from './habits.ts';
import { askMeasure, measureBox, showLog, takeOver } from './measure.ts';
import { keptPacks } from './pack.ts';
import { showPackingDay, takeBest, undoBest } from './packing-day.ts';
import { showParcel } from './parcel.ts';
import { addStartingStock, showStock } from './stock.ts';
import { bringWeather, showWeather } from './weather.ts';
import { addWeatherDay, bringPlaceWeather, showWeatherPlace, takeOutDay } from './weather-place.ts';
import { keptWeatherPlaces } from './weather-place-form.ts';
import { changeWeatherService, showWeatherServices } from './weather-services.ts';

const nav = 'settings';
const upload = { maxBytes: 3_000_000 };
const boxes = '/parcels/boxes';
const weather = '/parcels/weather';
const carriers = '/parcels/carriers';
const packing = '/parcels/packing';
const parcel = '/parcels/orders/:number';

export const parcelRoutes: RouteTable = [
  { method: 'GET', path: '/parcels/stock', access: 'helper', nav, handler: showStock },
  { method: 'POST', path: '/parcels/stock/starting', access: 'owner', nav, handler: addStartingStock },
  ...keptRoutes(keptBoxes, nav),
  { method: 'GET', path: `${boxes}/:id/measure`, access: 'helper', nav, handler: askMeasure },
  { method: 'POST', path: `${boxes}/:id/measure`, access: 'helper', nav, upload, handler: measureBox },
  { method: 'GET', path: `${boxes}/:id/logs/:log`, access: 'helper', nav, handler: showLog },
  { method: 'POST', path: `${boxes}/:id/logs/:log/take`, access: 'owner', nav, handler: takeOver },
  ...keptRoutes(keptPacks, nav),
  { method: 'GET', path: packing, access: 'helper', nav: 'orders', shows: 'orders', handler: showPackingDay },
  { method: 'POST', path: `${packing}/take-best`, access: 'owner', nav: 'orders', handler: takeBest },
  { method: 'POST', path: `${packing}/undo`, access: 'owner', nav: 'orders', handler: undoBest },
  {
    method: 'GET',
    path: parcel,
    access: 'helper',
    nav: 'orders',
    shows: 'order :number',
    handler: showParcel,
  },
  { method: 'POST', path: `${parcel}/choose`, access: 'owner', nav: 'orders', handler: chooseParcel },
  { method: 'POST', path: `${parcel}/take-back`, access: 'owner', nav: 'orders', handler: takeBackChoice },
  { method: 'POST', path: `${parcel}/hold`, access: 'owner', nav: 'orders', handler: holdParcel },
  { method: 'POST', path: `${parcel}/let-go`, access: 'owner', nav: 'orders', handler: letParcelGo },
  { method: 'POST', path: `${parcel}/way`, access: 'owner', nav: 'orders', handler: changeWay },
  { method: 'GET', path: carriers, access: 'helper', nav, handler: showCarriers },
  ...keptRoutes(keptCarriers, nav),
  { method: 'POST', path: `${carriers}/habits`, access: 'owner', nav, handler: changeParcelHabits },
  { method: 'POST', path: `${carriers}/areas`, access: 'owner', nav, handler: addArea },
  { method: 'POST', path: `${carriers}/areas/:id/take-out`, access: 'owner', nav, handler: removeArea },
  { method: 'GET', path: weather, access: 'helper', nav, handler: showWeather },
  ...keptRoutes(keptWeatherPlaces, nav),
  { method: 'POST', path: `${weather}/file`, access: 'helper', nav, upload, handler: bringWeather },
  { method: 'GET', path: `${weather}/services`, access: 'owner', nav, handler: showWeatherServices },
  {
    method: 'POST',
    path: `${weather}/services/:service`,
    access: 'owner',
    nav,
    handler: changeWeatherService,
  },
  { method: 'GET', path: `${weather}/:id`, access: 'helper', nav, handler: showWeatherPlace },
  { method: 'POST', path: `${weather}/:id/days`, access: 'helper', nav, handler: addWeatherDay },
  { method: 'POST', path: `${weather}/:id/file`, access: 'helper', nav, upload, handler: bringPlaceWeather },
  { method: 'POST', path: `${weather}/:id/take-out`, access: 'helper', nav, handler: takeOutDay },
];
