// Entry of the built program: `start` runs Dryspell, everything else is a command.
export {};

const args = process.argv.slice(2);
if (args[0] === 'start') {
  const { startDryspell } = await import('./launcher/start.ts');
  await startDryspell(args.slice(1));
} else {
  const { COMMANDS } = await import('./commands/all-commands.ts');
  const { runCommand } = await import('./commands/run-command.ts');
  process.exitCode = await runCommand(COMMANDS, args, process.env, {
    out: (text) => process.stdout.write(`${text}\n`),
    err: (text) => process.stderr.write(`${text}\n`),
  });
}
