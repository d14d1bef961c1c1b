export function checkDocuments(root: string, files: readonly string[]): string[];
