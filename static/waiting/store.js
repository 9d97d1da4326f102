// What waits in this browser: entries in the order they were written, keys of forms that were sent, and a few facts
// (who is signed in, when the server was last heard). Used by the pages and by the worker.

import { named } from './at.js';

const stores = { entries: { keyPath: 'id', autoIncrement: true }, facts: {}, sentForms: {} };
const rememberedForms = 400;

let opening = null;

function open() {
  opening ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(named('waiting'), 1);
    request.onupgradeneeded = () => {
      for (const [name, options] of Object.entries(stores)) request.result.createObjectStore(name, options);
    };
    request.onsuccess = () => {
      // A newer page or a cleared store closes it; the next use opens it anew.
      request.result.onversionchange = () => request.result.close();
      request.result.onclose = () => {
        opening = null;
      };
      resolve(request.result);
    };
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new Error('the store is held open elsewhere'));
  });
  opening.catch(() => {
    opening = null;
  });
  return opening;
}

/** Runs `work` in one transaction; resolves with what its request came to once all of it is on the disk. */
async function inStore(name, mode, work) {
  const database = await open();
  return new Promise((resolve, reject) => {
    const transaction = database.transaction(name, mode, { durability: 'strict' });
    const request = work(transaction.objectStore(name));
    transaction.oncomplete = () => resolve(request?.result);
    transaction.onerror = () => reject(transaction.error);
    transaction.onabort = () => reject(transaction.error ?? new Error('the store gave up'));
  });
}

export const fact = (name) => inStore('facts', 'readonly', (store) => store.get(name));
export const setFact = (name, value) => inStore('facts', 'readwrite', (store) => store.put(value, name));

/** Every entry, oldest first. */
export const allEntries = () => inStore('entries', 'readonly', (store) => store.getAll());
export const entryOf = (id) => inStore('entries', 'readonly', (store) => store.get(id));
export const addEntry = (entry) => inStore('entries', 'readwrite', (store) => store.add(entry));
export const dropEntry = (id) => inStore('entries', 'readwrite', (store) => store.delete(id));

/** Changes an entry that is still there; one that was dropped meanwhile is not brought back. */
export const changeEntry = (id, changes) =>
  inStore('entries', 'readwrite', (store) => {
    const reading = store.get(id);
    reading.onsuccess = () => {
      if (reading.result) store.put({ ...reading.result, ...changes });
    };
    return reading;
  });

/** What was sent with a form's key, so that a form opened again after it was sent is told from one sent twice. */
export const sentWith = (key) => inStore('sentForms', 'readonly', (store) => store.get(key));

export const rememberSent = (key, said, at) =>
  inStore('sentForms', 'readwrite', (store) => {
    store.put({ said, at }, key);
    const counting = store.count();
    counting.onsuccess = () => {
      if (counting.result > rememberedForms * 2) forgetOldest(store, counting.result - rememberedForms);
    };
    return counting;
  });

function forgetOldest(store, surplus) {
  const all = [];
  const walking = store.openCursor();
  walking.onsuccess = () => {
    const cursor = walking.result;
    if (cursor) {
      all.push({ key: cursor.key, at: cursor.value.at });
      cursor.continue();
      return;
    }
    all.sort((a, b) => a.at - b.at);
    for (const { key } of all.slice(0, surplus)) store.delete(key);
  };
}

/** Tells every open page and the worker that something changed. */
export function tell(news) {
  const channel = new BroadcastChannel(named('waiting'));
  channel.postMessage(news);
  channel.close();
}
