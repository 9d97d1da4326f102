/**
 * Runs in every page that is measured. From a press (`click` or `keydown`, by the time the browser gives the event) it waits
 * for what shows: in the same page, the first node or text put in anywhere below `main` or the notice and the paint after
 * it; on the next page, its first paint with content. Whatever moved meanwhile is summed up (Layout Instability API), that
 * within half a second of the press too, which the browser's own sum leaves out.
 */
export const watch = `(() => {
  const key = 'bench-pressed';
  window.benchMoved = 0;
  new PerformanceObserver((list) => {
    for (const { value } of list.getEntries()) window.benchMoved += value;
  }).observe({ type: 'layout-shift', buffered: true });

  const inStore = sessionStorage.getItem(key);
  if (inStore) {
    sessionStorage.removeItem(key);
    new PerformanceObserver((list, watcher) => {
      for (const { name, startTime } of list.getEntries()) {
        if (name !== 'first-contentful-paint') continue;
        watcher.disconnect();
        window.benchTook = performance.timeOrigin + startTime - Number(inStore);
      }
    }).observe({ type: 'paint', buffered: true });
  }

  let pressed = null;
  window.benchAwait = (kind) => {
    delete window.benchTook;
    window.benchMoved = 0;
    sessionStorage.removeItem(key);
    pressed = null;
    const begin = (event) => {
      if (pressed !== null) return;
      pressed = performance.timeOrigin + event.timeStamp;
      if (kind === 'page') sessionStorage.setItem(key, String(pressed));
    };
    addEventListener('click', begin, { capture: true, once: true });
    addEventListener('keydown', begin, { capture: true, once: true });
    if (kind === 'page') return;
    const painted = () => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = () => {
        window.benchTook = performance.timeOrigin + performance.now() - pressed;
      };
      port2.postMessage(null);
    };
    const changed = new MutationObserver(() => {
      if (pressed === null) return;
      changed.disconnect();
      requestAnimationFrame(painted);
    });
    changed.observe(document.body, { childList: true, characterData: true, subtree: true });
  };
  addEventListener('pageshow', (event) => {
    const from = event.persisted && sessionStorage.getItem(key);
    if (!from) return;
    sessionStorage.removeItem(key);
    requestAnimationFrame(() => setTimeout(() => {
      window.benchTook = performance.timeOrigin + performance.now() - Number(from);
    }));
  });
})();`;
