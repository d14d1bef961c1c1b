// Checks that the documents are true where a program can tell: links lead somewhere, commands exist, and nothing names a
// path of one machine. Prints each finding; exit code 1 when there is any.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';

/** Folders that exist on somebody's machine only. Written apart, so that this file does not find itself. */
const MACHINE_FOLDERS = ['work', 'home', 'Users'];
const MACHINE_PATH = new RegExp(`(^|[\\s"'\`(=])/(${MACHINE_FOLDERS.join('|')})/[A-Za-z0-9_.-]+/`);
const UNFINISHED = new RegExp(`\\b(${['TO' + 'DO', 'FIX' + 'ME', 'XX' + 'X'].join('|')})\\b`);
const TEXT = /\.(md|ts|tsx|mjs|cjs|js|json|ya?ml|sql|prisma|css|html)$/;

function headingAnchors(text) {
  const anchors = new Set();
  for (const [, heading] of text.matchAll(/^#+\s+(.*)$/gm)) {
    anchors.add(
      heading
        .trim()
        .toLowerCase()
        .replace(/[^\p{L}\p{N}\s_-]/gu, '')
        .replace(/\s/g, '-'),
    );
  }
  return anchors;
}

function brokenLinks(root, file, text) {
  const prose = text.replace(/```[\s\S]*?```/g, '').replace(/`[^`\n]*`/g, '');
  const broken = [];
  for (const [, target] of prose.matchAll(/\[[^\]]*\]\(([^)\s]+)[^)]*\)/g)) {
    if (/^[a-z]+:/.test(target)) continue; // another site: not ours to keep alive, and CI has no network
    const [relative, anchor] = target.split('#');
    const full =
      relative === '' ? path.join(root, file) : path.resolve(root, path.dirname(file), decodeURI(relative));
    if (!fs.existsSync(full)) broken.push(`${file}: the link ${target} leads nowhere`);
    else if (anchor && full.endsWith('.md') && !headingAnchors(fs.readFileSync(full, 'utf8')).has(anchor)) {
      broken.push(`${file}: there is no heading for ${target}`);
    }
  }
  return broken;
}

function unknownCommands(root, file, text) {
  const { scripts } = JSON.parse(fs.readFileSync(path.join(root, 'package.json'), 'utf8'));
  const commandFolder = path.join(root, 'apps/cli/src/commands');
  const commands = fs.existsSync(commandFolder)
    ? fs.readdirSync(commandFolder).flatMap((name) => /^(.+)\.command\.ts$/.exec(name)?.[1] ?? [])
    : [];
  const unknown = [];
  for (const [, script] of text.matchAll(/\bnpm run (?:-s )?([a-z][a-z:-]*)/g)) {
    if (!(script in scripts)) unknown.push(`${file}: package.json has no script "${script}"`);
  }
  for (const script of ['start', 'test']) {
    if (text.includes(`npm ${script}`) && !(script in scripts))
      unknown.push(`${file}: no script "${script}"`);
  }
  for (const [, words] of text.matchAll(/(?:npm run dryspell --|npx dryspell) +([a-z]+(?: [a-z]+)?)/g)) {
    const [first] = words.split(' ');
    const isKnown = commands.includes(first) || commands.includes(words.replace(' ', '-'));
    if (!isKnown && first !== 'help') unknown.push(`${file}: dryspell has no command "${words}"`);
  }
  return unknown;
}

/** Findings over the given files (paths from the root). */
export function checkDocuments(root, files) {
  return files.flatMap((file) => {
    const full = path.join(root, file);
    if (!fs.existsSync(full) || (!TEXT.test(file) && !file.startsWith('.ci/'))) return [];
    const text = fs.readFileSync(full, 'utf8');
    const findings = [];
    text.split('\n').forEach((line, index) => {
      if (MACHINE_PATH.test(line)) findings.push(`${file}:${index + 1}: names a path of one machine`);
      if (UNFINISHED.test(line) && file !== 'package-lock.json')
        findings.push(`${file}:${index + 1}: unfinished work`);
    });
    if (file.endsWith('.md'))
      findings.push(...brokenLinks(root, file, text), ...unknownCommands(root, file, text));
    return findings;
  });
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  const root = path.resolve(import.meta.dirname, '../../..');
  const list = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard'], {
    cwd: root,
    encoding: 'utf8',
  });
  const findings = checkDocuments(root, list.split('\n').filter(Boolean));
  for (const finding of findings) console.error(finding);
  console.log(findings.length === 0 ? 'the documents hold' : `${findings.length} findings`);
  process.exit(findings.length === 0 ? 0 : 1);
}
