import * as vscode from 'vscode';
import { fill, type Say } from '../text/message';

/** A template of the core in the language of the workbench, filled. */
export const say: Say = (template, args) => fill(vscode.l10n.t(template), args);
