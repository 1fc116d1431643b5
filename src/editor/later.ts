import * as vscode from 'vscode';
import { compareCommit } from './compareCommit';
import { completion } from './completion';
import type { Configurations } from './config';
import { decorations } from './decorations';
import type { Documents } from './documents';
import { drop } from './drop';
import { format } from './format';
import { gestures } from './gestures';
import { hover } from './hover';
import { lens } from './lens';
import { mends } from './mends';
import { type Elsewhere, navigation } from './navigation';
import { newSessions } from './newSession';
import { onType } from './onType';
import { outline } from './outline';
import { paste } from './paste';
import { selection } from './selection';
import { sessionsTree } from './sessionsTree';
import { statusBar } from './statusBar';
import { summaries } from './summary';

/** What is done for sessions once somebody asks for it, and what adorns them: nothing that their first findings wait for. */
export const later = (documents: Documents, configurations: Configurations, elsewhere: Elsewhere): vscode.Disposable =>
  vscode.Disposable.from(
    decorations(documents),
    mends(documents, configurations),
    lens(documents, configurations),
    summaries(documents, configurations),
    compareCommit(documents, configurations),
    format(documents),
    hover(documents),
    completion(documents),
    outline(documents),
    navigation(documents, elsewhere),
    selection(documents),
    onType(documents),
    gestures(documents),
    statusBar(documents, configurations),
    paste(documents),
    drop(documents),
    newSessions(documents, configurations),
    sessionsTree(documents, configurations),
  );
