import type { RouteTable } from '../plumbing/route-table.ts';
import { addBox, askEditBox, askNewBox, bringBackBox, retireBox, saveBox } from './box.ts';
import {
  addCarrier,
  askEditCarrier,
  askNewCarrier,
  bringBackCarrier,
  retireCarrier,
  saveCarrier,
} from './carriers.ts';
import { changeWay, chooseParcel, holdParcel, letParcelGo, takeBackChoice } from './choose-parcel.ts';
import { addArea, changeParcelHabits, removeArea, showCarriers } from './habits.ts';
import { askMeasure, measureBox, showLog, takeOver } from './measure.ts';
import { addPack, askEditPack, askNewPack, bringBackPack, retirePack, savePack } from './pack.ts';
import { showPackingDay, takeBest, undoBest } from './packing-day.ts';
import { showParcel } from './parcel.ts';
import { addStartingStock, showStock } from './stock.ts';
import { bringWeather, showWeather } from './weather.ts';
import { addWeatherDay, bringPlaceWeather, showWeatherPlace, takeOutDay } from './weather-place.ts';
import {
  addWeatherPlace,
  askEditWeatherPlace,
  askNewWeatherPlace,
  bringBackWeatherPlace,
  retireWeatherPlace,
  saveWeatherPlace,
} from './weather-place-form.ts';
import { changeWeatherService, showWeatherServices } from './weather-services.ts';

const nav = 'settings';
const upload = { maxBytes: 3_000_000 };
const boxes = '/parcels/boxes';
const packs = '/parcels/packs';
const weather = '/parcels/weather';
const carriers = '/parcels/carriers';
const packing = '/parcels/packing';
const parcel = '/parcels/orders/:number';

export const parcelRoutes: RouteTable = [
  { method: 'GET', path: '/parcels/stock', access: 'helper', nav, handler: showStock },
  { method: 'POST', path: '/parcels/stock/starting', access: 'owner', nav, handler: addStartingStock },
  { method: 'POST', path: boxes, access: 'owner', nav, handler: addBox },
  { method: 'GET', path: `${boxes}/new`, access: 'owner', nav, handler: askNewBox },
  { method: 'GET', path: `${boxes}/:id/edit`, access: 'owner', nav, handler: askEditBox },
  { method: 'POST', path: `${boxes}/:id/edit`, access: 'owner', nav, handler: saveBox },
  { method: 'POST', path: `${boxes}/:id/retire`, access: 'owner', nav, handler: retireBox },
  { method: 'POST', path: `${boxes}/:id/bring-back`, access: 'owner', nav, handler: bringBackBox },
  { method: 'GET', path: `${boxes}/:id/measure`, access: 'helper', nav, handler: askMeasure },
  { method: 'POST', path: `${boxes}/:id/measure`, access: 'helper', nav, upload, handler: measureBox },
  { method: 'GET', path: `${boxes}/:id/logs/:log`, access: 'helper', nav, handler: showLog },
  { method: 'POST', path: `${boxes}/:id/logs/:log/take`, access: 'owner', nav, handler: takeOver },
  { method: 'POST', path: packs, access: 'owner', nav, handler: addPack },
  { method: 'GET', path: `${packs}/new`, access: 'owner', nav, handler: askNewPack },
  { method: 'GET', path: `${packs}/:id/edit`, access: 'owner', nav, handler: askEditPack },
  { method: 'POST', path: `${packs}/:id/edit`, access: 'owner', nav, handler: savePack },
  { method: 'POST', path: `${packs}/:id/retire`, access: 'owner', nav, handler: retirePack },
  { method: 'POST', path: `${packs}/:id/bring-back`, access: 'owner', nav, handler: bringBackPack },
  { method: 'GET', path: packing, access: 'helper', nav: 'orders', handler: showPackingDay },
  { method: 'POST', path: `${packing}/take-best`, access: 'owner', nav: 'orders', handler: takeBest },
  { method: 'POST', path: `${packing}/undo`, access: 'owner', nav: 'orders', handler: undoBest },
  { method: 'GET', path: parcel, access: 'helper', nav: 'orders', handler: showParcel },
  { method: 'POST', path: `${parcel}/choose`, access: 'owner', nav: 'orders', handler: chooseParcel },
  { method: 'POST', path: `${parcel}/take-back`, access: 'owner', nav: 'orders', handler: takeBackChoice },
  { method: 'POST', path: `${parcel}/hold`, access: 'owner', nav: 'orders', handler: holdParcel },
  { method: 'POST', path: `${parcel}/let-go`, access: 'owner', nav: 'orders', handler: letParcelGo },
  { method: 'POST', path: `${parcel}/way`, access: 'owner', nav: 'orders', handler: changeWay },
  { method: 'GET', path: carriers, access: 'helper', nav, handler: showCarriers },
  { method: 'POST', path: carriers, access: 'owner', nav, handler: addCarrier },
  { method: 'GET', path: `${carriers}/new`, access: 'owner', nav, handler: askNewCarrier },
  { method: 'POST', path: `${carriers}/habits`, access: 'owner', nav, handler: changeParcelHabits },
  { method: 'POST', path: `${carriers}/areas`, access: 'owner', nav, handler: addArea },
  { method: 'POST', path: `${carriers}/areas/:id/take-out`, access: 'owner', nav, handler: removeArea },
  { method: 'GET', path: `${carriers}/:id/edit`, access: 'owner', nav, handler: askEditCarrier },
  { method: 'POST', path: `${carriers}/:id/edit`, access: 'owner', nav, handler: saveCarrier },
  { method: 'POST', path: `${carriers}/:id/retire`, access: 'owner', nav, handler: retireCarrier },
  { method: 'POST', path: `${carriers}/:id/bring-back`, access: 'owner', nav, handler: bringBackCarrier },
  { method: 'GET', path: weather, access: 'helper', nav, handler: showWeather },
  { method: 'POST', path: weather, access: 'owner', nav, handler: addWeatherPlace },
  { method: 'POST', path: `${weather}/file`, access: 'helper', nav, upload, handler: bringWeather },
  { method: 'GET', path: `${weather}/new`, access: 'owner', nav, handler: askNewWeatherPlace },
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
  { method: 'GET', path: `${weather}/:id/edit`, access: 'owner', nav, handler: askEditWeatherPlace },
  { method: 'POST', path: `${weather}/:id/edit`, access: 'owner', nav, handler: saveWeatherPlace },
  { method: 'POST', path: `${weather}/:id/retire`, access: 'owner', nav, handler: retireWeatherPlace },
  { method: 'POST', path: `${weather}/:id/bring-back`, access: 'owner', nav, handler: bringBackWeatherPlace },
];
