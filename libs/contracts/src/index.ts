export * from './plan-file.ts';
export * from './season-file/index.ts';
