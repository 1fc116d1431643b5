import * as vscode from 'vscode';
import type { Configurations } from '../../editor/config';
import type { Documents } from '../../editor/documents';
import { mendsOf } from '../../editor/mends';
import type { Elsewhere } from '../../editor/navigation';
import { completion } from './completion';
import { hover } from './hover';
import { reviewsNaming } from './names';
import { navigation } from './navigation';
import { MarkdownPreview } from './preview';
import { publish } from './publish';
import { MARKDOWN, Reviews } from './reviews';
import { ReviewSessions } from './sessions';

/** All that is done for reviews, and what the rest of the extension asks of it. */
export interface Reviewing extends vscode.Disposable {
  /** Where reviews name blocks of sessions. */
  readonly elsewhere: Elsewhere;
  readonly preview: MarkdownPreview;
  /** Publishes the review of an editor, or the one that is named. */
  readonly publish: (of: unknown) => Promise<void>;
}

export function reviewing(documents: Documents, configurations: Configurations): Reviewing {
  const sessions = new ReviewSessions(documents, configurations);
  const reviews = new Reviews(sessions, configurations);
  const preview = new MarkdownPreview(sessions, reviews, configurations);
  const elsewhere: Elsewhere = (session, id) => reviewsNaming(session, id, reviews);
  const all = vscode.Disposable.from(
    sessions,
    reviews,
    preview,
    mendsOf({ language: MARKDOWN }, async (document) => (await reviews.checked(document))?.findings ?? []),
    hover(reviews),
    completion(sessions, configurations),
    navigation(documents, reviews, sessions, elsewhere),
  );
  return {
    elsewhere,
    preview,
    publish: (of) => publish(of, { sessions, configurations }),
    dispose: () => all.dispose(),
  };
}
