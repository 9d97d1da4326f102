/** The promise, or a failure when it takes longer than that. */
export function inTime(promise, ms) {
  let timer;
  const late = new Promise((_resolve, reject) => {
    timer = setTimeout(() => reject(new Error('no answer in time')), ms);
  });
  return Promise.race([promise, late]).finally(() => clearTimeout(timer));
}
