import * as vscode from 'vscode';
import { sayIn } from '../text/message';

/** Templates of the core in the language of the workbench. */
export const say = sayIn((template) => vscode.l10n.t(template));
