// Keeps clock, chance, environment, network and console out of the pure libraries.
// node apps/cli/tools/pure-lint.mjs [root]     prints file:line and the rule; exit code 1 when anything is found
import fs from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import ts from 'typescript';
import { PURE_LIBS } from './folder-table.mjs';

const GLOBALS = {
  process: 'no-environment: take what you need as an argument',
  console: 'no-console: return it, or tell an observer',
  fetch: 'no-network: a pure library calls nobody',
  WebSocket: 'no-network: a pure library calls nobody',
  XMLHttpRequest: 'no-network: a pure library calls nobody',
  setTimeout: 'no-timer: take a stop rule',
  setInterval: 'no-timer: take a stop rule',
  setImmediate: 'no-timer: take a stop rule',
  queueMicrotask: 'no-timer: take a stop rule',
  performance: 'no-clock: take a Clock or a stop rule',
  crypto: 'no-chance: take a seeded generator',
  Intl: 'no-machine-zone: zones and formats come from the kernel, not from the machine',
  require: 'no-require: import it',
};
const MEMBERS = {
  'Date.now': 'no-clock: take a Clock or an Instant',
  'Math.random': 'no-chance: take a seeded generator',
};
const MACHINE_LOCALE = /^toLocale(Date|Time)?String$/;

function declaredNames(source) {
  const names = new Set();
  const visit = (node) => {
    const declares = ts.isVariableDeclaration(node) || ts.isParameter(node) || ts.isFunctionDeclaration(node);
    if (declares && node.name !== undefined && ts.isIdentifier(node.name)) names.add(node.name.text);
    if (ts.isBindingElement(node) && ts.isIdentifier(node.name)) names.add(node.name.text);
    if (ts.isImportSpecifier(node)) names.add(node.name.text);
    ts.forEachChild(node, visit);
  };
  visit(source);
  return names;
}

function isUse(node) {
  const { parent } = node;
  if (ts.isPropertyAccessExpression(parent) && parent.name === node) return isGlobalThis(parent.expression);
  if (ts.isPropertyAssignment(parent) && parent.name === node) return false;
  if (ts.isTypeReferenceNode(parent) || ts.isQualifiedName(parent) || ts.isTypeQueryNode(parent))
    return false;
  const names =
    ts.isPropertySignature(parent) || ts.isPropertyDeclaration(parent) || ts.isMethodDeclaration(parent);
  if (names || ts.isMethodSignature(parent) || ts.isEnumMember(parent)) return parent.initializer === node;
  return !(ts.isLiteralTypeNode(parent) || ts.isBindingElement(parent) || ts.isNamedTupleMember(parent));
}

function isGlobalThis(node) {
  return ts.isIdentifier(node) && node.text === 'globalThis';
}

/** Findings of one source text: [{ line, rule }]. */
export function lintPureSource(fileName, text) {
  const source = ts.createSourceFile(fileName, text, ts.ScriptTarget.ES2023, true);
  const declared = declaredNames(source);
  const found = [];
  const report = (node, rule) =>
    found.push({ line: source.getLineAndCharacterOfPosition(node.getStart()).line + 1, rule });

  const visit = (node) => {
    if (ts.isIdentifier(node) && node.text in GLOBALS && !declared.has(node.text) && isUse(node)) {
      report(node, GLOBALS[node.text]);
    }
    if (ts.isPropertyAccessExpression(node)) {
      const owner = isGlobalThis(node.expression) ? '' : node.expression.getText();
      const member = MEMBERS[`${owner.replace(/^globalThis\./, '')}.${node.name.text}`];
      if (member !== undefined) report(node, member);
      if (MACHINE_LOCALE.test(node.name.text)) report(node, GLOBALS.Intl);
    }
    const isDate =
      (ts.isNewExpression(node) || ts.isCallExpression(node)) && node.expression.getText() === 'Date';
    if (isDate && (node.arguments === undefined || node.arguments.length === 0))
      report(node, MEMBERS['Date.now']);
    if (
      ts.isThrowStatement(node) &&
      (ts.isStringLiteralLike(node.expression) || ts.isTemplateExpression(node.expression))
    ) {
      report(node, 'throw-an-error: throw an Error with a code');
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

function sourcesUnder(folder) {
  if (!fs.existsSync(folder)) return [];
  return fs
    .readdirSync(folder, { recursive: true })
    .map((name) => path.join(folder, name))
    .filter((file) => file.endsWith('.ts') && !file.endsWith('.spec.ts'));
}

/** Findings of every pure library under a root: ["libs/x/src/y.ts:12 rule"]. */
export function lintPureLibs(root) {
  return PURE_LIBS.flatMap((lib) => sourcesUnder(path.join(root, 'libs', lib, 'src'))).flatMap((file) =>
    lintPureSource(file, fs.readFileSync(file, 'utf8')).map(
      ({ line, rule }) => `${path.relative(root, file)}:${line} ${rule}`,
    ),
  );
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  const root = path.resolve(process.argv[2] ?? path.join(import.meta.dirname, '../../..'));
  const findings = lintPureLibs(root);
  for (const finding of findings) console.error(finding);
  console.log(findings.length === 0 ? 'the pure libraries are pure' : `${findings.length} findings`);
  process.exit(findings.length === 0 ? 0 : 1);
}
