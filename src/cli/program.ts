import { Argument, Command, CommanderError, InvalidArgumentError, Option } from 'commander';
import { visible } from '../report/format';
import { CHECK_FORMS, check, FAIL_ON } from './check';
import { DIFF_FORMS, diff } from './diff';
import { FIGURE_FORMS, FIGURE_THEMES, figure } from './figure';
import { format } from './format';
import { CannotRun, complain } from './io';
import { MEASURES_FORMS, measures } from './measures';
import { PUBLISH_FORMS, publish } from './publish';
import { SUMMARY_FORMS, summary } from './summary';
import { value } from './value';
import { version } from './version';

/** 0 clean, 1 something was found, 2 could not run. */
type ExitCode = number;

const root = () =>
  new Option('--root <folder>', 'the folder that paths may not leave; else the nearest with nitbook.jsonc or .git, else this one');
const formOf = (forms: readonly string[]) => new Option('--format <form>', 'form of the output').choices(forms).default('text');

/** Reads a number that lies in a range. */
const sizeIn = (least: number, most: number) => (text: string) => {
  const value = Number(text);
  if (text.trim() === '' || !(value >= least && value <= most))
    throw new InvalidArgumentError(`Expected a number from ${least} to ${most}.`);
  return value;
};

/** Runs the command that the arguments ask for. @param args without the program's own name */
export async function run(args: readonly string[]): Promise<ExitCode> {
  let exitCode: ExitCode = 0;
  /** What a command's action does with the code of its function. */
  const ends =
    <A extends unknown[]>(command: (...args: A) => Promise<ExitCode>) =>
    async (...args: A): Promise<void> => {
      exitCode = await command(...args);
    };

  const program = new Command('nitbook')
    .description('Checks and reports measurement notebooks for displays.')
    .version(version, '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .helpCommand('help [command]', 'print the help of a command')
    .exitOverride()
    .configureOutput({ writeErr: (text) => void process.stderr.write(text.split('\n').map(visible).join('\n')) })
    .addHelpText('after', '\nExit codes: 0 clean, 1 something was found, 2 could not run.');

  program
    .command('check')
    .description('say what is wrong or missing in sessions, reviews and nitbook.jsonc, as path:line:column')
    .argument('<path...>', 'files, or folders to look through')
    .addOption(formOf(CHECK_FORMS))
    .addOption(new Option('--fail-on <severity>', 'exit with 1 at findings this grave or graver').choices(FAIL_ON).default('warning'))
    .addOption(root())
    .action(ends(check));

  program
    .command('summary')
    .description('print the figures of a session with their verdicts')
    .argument('<file>', 'a .nitbook file')
    .addOption(formOf(SUMMARY_FORMS))
    .option('--row-intervals', 'with --format json: the intervals of rows too')
    .addOption(root())
    .action(ends(summary));

  program
    .command('value')
    .description('print one figure with its limits and what it is against')
    .argument('<ref>', 'such as aurora.nitbook#grey.de.max, aurora.nitbook#grey.de@90, aurora.nitbook#aurora.firmware')
    .option('--raw', 'print the number alone, not rounded')
    .addOption(root())
    .action(ends(value));

  program
    .command('figure')
    .description('draw a figure, or all of a run or session, as SVG or PNG; without -o one goes to the terminal, and several are listed')
    .argument('<ref>', 'such as aurora.nitbook#grey.balance, aurora.nitbook#grey+grey-tuned.change, aurora.nitbook#grey, aurora.nitbook')
    .option('-o, --output <path>', 'a file that ends in .svg or .png, or a folder that ends in /')
    .addOption(new Option('--width <px>', 'width of the picture').argParser(sizeIn(200, 4000)).default(720))
    .addOption(new Option('--height <px>', 'height of the picture; as tall as the figure wants when left out').argParser(sizeIn(120, 4000)))
    .addOption(new Option('--theme <theme>', 'colours').choices(FIGURE_THEMES).default('light'))
    .addOption(new Option('--format <form>', 'form of files in a folder').choices(FIGURE_FORMS))
    .addOption(new Option('--scale <n>', 'pixels of a PNG for each of the picture').argParser(sizeIn(0.5, 8)).default(2))
    .addOption(root())
    .action(ends(figure));

  program
    .command('publish')
    .description('make a page of a review that needs nothing else, or plain Markdown with its figures as files')
    .argument('<review...>', 'Markdown files')
    .requiredOption('-o, --output <path>', 'a folder that ends in /, or for one review a file')
    .addOption(new Option('--to <form>', 'form of the output').choices(PUBLISH_FORMS).default('html'))
    .option('--allow-stale', 'publish claims that do not hold, and mark them')
    .addOption(root())
    .action(ends(publish));

  program
    .command('diff')
    .description('say what changed between two versions of a session: settings, readings, and the figures that moved')
    .argument('<file...>', 'the version before and the one after; with --git one file, as it stands')
    .option('--git <rev>', 'compare with this revision of the file, such as HEAD or a tag')
    .addOption(formOf(DIFF_FORMS))
    .addOption(root())
    .addHelpText('after', '\nExit codes: 0 no differences that matter, 1 differences, 2 could not run.')
    .action(ends(diff));

  program
    .command('format')
    .description('bring sessions into the canonical layout: blanks move, nothing else changes')
    .addArgument(new Argument('[path...]', 'files, or folders to look through').default(['.'], 'this folder'))
    .option('--check', 'change nothing; list the files that would change and exit with 1')
    .addOption(root())
    .action(ends(format));

  program
    .command('measures')
    .description('print what is computed, with limits and units')
    .argument('[kind]', 'one kind of run, such as greyscale')
    .addOption(formOf(MEASURES_FORMS))
    .action(ends(measures));

  try {
    await program.parseAsync(args, { from: 'user' });
    return exitCode;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    if (error instanceof CannotRun) complain(error.message);
    else complain(`a mistake of this program, not of yours: ${error instanceof Error ? error.message : String(error)}`);
    return 2;
  }
}
