import { expect, vi } from 'vitest'
import type { FileRef } from '../../core/host/file-ref.ts'
import type { RecentRef } from '../../core/host/files.ts'
import { type Desk, openByDialog } from '../../renderer/state/open.ts'
import { firstState, type State } from '../../renderer/state/state.ts'
import { createStore } from '../../renderer/state/store.ts'
import { type FakeHost, type FakePlan, fakeHost } from './fake-host.ts'

export interface FakeDesk extends Desk {
  readonly host: FakeHost
  /** What the page handed to the user. */
  readonly downloads: { readonly name: string; readonly content: string | Blob }[]
}

/** A window's state without a window: a host that is played, and a page where nobody picks a file. */
export function fakeDesk(plan: FakePlan = {}, state: State = firstState): FakeDesk {
  const downloads: FakeDesk['downloads'] = []
  return {
    store: createStore(state),
    host: fakeHost(plan),
    page: {
      pick: async () => null,
      pickArt: async () => [],
      pickAsset: async () => [],
      download: (name, content) => downloads.push({ name, content }),
    },
    windowId: 'window',
    downloads,
  }
}

/** The same with the host's art open. */
export async function openedDesk(plan: FakePlan = {}): Promise<FakeDesk> {
  const desk = fakeDesk(plan)
  openByDialog(desk)
  await vi.waitFor(() => expect(desk.store.get().session.art).not.toBeNull(), { timeout: 30_000 })
  return desk
}

/** A file of the list of those opened lately, which was opened alone. */
export const lately = (file: FileRef): RecentRef => ({ ...file, folder: 'Art', beside: [], openedAt: null })
