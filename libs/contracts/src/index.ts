export * from './season-file/index.ts';
