declare module 'better-sqlite3-napi' {
  export { default } from 'better-sqlite3';
}
