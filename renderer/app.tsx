import { type DragEvent, Suspense, useEffect, useMemo, useState } from 'react'
import { assumedNumbers, setAssumed } from '../core/job/assumed.ts'
import { setMeasured } from '../core/job/edit.ts'
import { addVariant, chooseVariant, removeVariant, renameVariant } from '../core/job/variants.ts'
import { everywhereAction, type KeyAction, tableAction } from './keys.ts'
import { Ask } from './panels/Ask.tsx'
import { DesignBar } from './panels/DesignBar.tsx'
import { FindingList } from './panels/FindingList.tsx'
import { Header } from './panels/Header.tsx'
import { MessageLine, WorkLine } from './panels/Lines.tsx'
import { Overlay } from './panels/Overlay.tsx'
import { Welcome } from './panels/Welcome.tsx'
import { LightPart } from './parts/LightPart.tsx'
import { bringLate, late } from './parts/late.tsx'
import { StackPart } from './parts/StackPart.tsx'
import { TablePart } from './parts/TablePart.tsx'
import type { Workshop } from './scene/workshop.ts'
import { pressed } from './state/actions.ts'
import type { AssetPreviews } from './state/assets.ts'
import { startBlank, startCarton, takeArt } from './state/blank.ts'
import { commandsOf, freshName } from './state/commands.ts'
import { allFindings } from './state/findings.ts'
import {
  ask,
  type Desk,
  dropDraft,
  openByDialog,
  openDemo,
  openDraft,
  openDropped,
  openRecent,
  openStart,
  pickArt,
  readOutside,
  relink,
} from './state/open.ts'
import type { Previews } from './state/previews.ts'
import { answerUnsaved, save } from './state/save.ts'
import { openQuestions } from './state/stack.ts'
import { inSession, inView, type View } from './state/state.ts'
import { decide, redo, settle, undo, unsaved } from './state/steps.ts'
import { useStore } from './state/store.ts'
import { keepTheme, shownTheme, type Theme } from './state/theme.ts'

// What the first picture does not need comes when it is asked for.
const Anything = late(async () => (await import('./panels/Anything.tsx')).Anything)
const AssumedPage = late(async () => (await import('./panels/AssumedPage.tsx')).AssumedPage)
const Brief = late(async () => (await import('./panels/Brief.tsx')).Brief)
const ComparePart = late(async () => (await import('./parts/ComparePart.tsx')).ComparePart)
const Help = late(async () => (await import('./panels/Help.tsx')).Help)

/** After the first map the machine is given this long for the picture before the late parts are fetched, ms. */
const pictureFirstMs = 8000

interface Props {
  readonly desk: Desk
  readonly previews: Previews
  readonly assetPreviews: AssetPreviews
  readonly workshop: Workshop
  /** Another one, for designs side by side: each is told of the last map it was given. */
  readonly openWorkshop: () => Workshop
}

/** The window: header, stack, table and light. */
export function App({ desk, previews, assetPreviews, workshop, openWorkshop }: Props) {
  const { store, host } = desk
  const state = useStore(store, whole => whole)
  const { job, view, session } = state
  const { art, about } = session
  const [dragging, setDragging] = useState(false)
  const findings = useMemo(() => allFindings(art, session.built, job), [art, session.built, job])
  const questions = useMemo(() => (art === null ? [] : openQuestions(art.art, art.assigned)), [art])
  const act = (action: KeyAction): void => {
    if (action.do === 'open') openByDialog(desk)
    else if (action.do === 'save') void save(desk)
    else if (action.do === 'saveAs') void save(desk, 'newName')
    else store.set(now => pressed(now, action))
  }
  const setTheme = (theme: Theme): void => {
    keepTheme(localStorage, theme)
    store.set(now => inView(now, { theme }))
  }
  const comparing = view.compare && job !== null && job.variants.length > 0
  const [beside, setBeside] = useState<Workshop | null>(null)
  useEffect(() => {
    if (comparing) setBeside(old => old ?? openWorkshop())
  }, [comparing, openWorkshop])
  const hasPicture = session.built !== null
  useEffect(() => {
    if (!hasPicture) return
    const timer = setTimeout(() => void bringLate(), pictureFirstMs)
    return () => clearTimeout(timer)
  }, [hasPicture])
  useTheme(view.theme)
  useKeys(act)
  useGuard(() => unsaved(store.get()))
  useTitle(art?.file.name ?? null, unsaved(state))
  const toggle = (sheet: NonNullable<View['sheet']>) =>
    store.set(now => inView(now, { sheet: now.view.sheet === sheet ? null : sheet }))
  const closeSheet = () => store.set(now => inView(now, { sheet: null }))
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the whole window takes a drop; Open does the same by keys
    <div
      className={`app${view.bare ? ' bare' : ''}${job === null ? ' empty' : ''}`}
      onDragOver={event => {
        event.preventDefault()
        setDragging(true)
      }}
      onDragLeave={event => {
        if (event.relatedTarget === null) setDragging(false)
      }}
      onDrop={drop}
    >
      <Header
        state={state}
        findings={findings.length}
        questions={questions.length}
        onOpen={() => openByDialog(desk)}
        onSave={() => void save(desk)}
        onUndo={() => store.set(undo)}
        onRedo={() => store.set(redo)}
        onFindings={() => toggle('findings')}
        onAssumed={() => toggle('assumed')}
        onHelp={() => toggle('help')}
        onBrief={() => toggle('brief')}
        onAnything={() => toggle('anything')}
        onArt={() => void takeArt(desk)}
        onQuestion={() => store.set(now => inView(now, { card: questions[0]?.target ?? null, bare: false }))}
      />
      {job === null || art === null ? (
        <Welcome
          about={about}
          recent={session.recent}
          dragging={dragging}
          onOpen={() => openByDialog(desk)}
          onDemo={() => openDemo(desk)}
          blank={{
            onPanel: (widthMm, heightMm) => startBlank(desk, widthMm, heightMm),
            onCarton: (form, caliperMm) => startCarton(desk, form, caliperMm),
          }}
          onRecent={file => openRecent(desk, file)}
        />
      ) : (
        <>
          <StackPart
            desk={desk}
            state={state}
            job={job}
            art={art}
            previews={previews}
            assetPreviews={assetPreviews}
          />
          {comparing ? (
            <Suspense fallback={<main className="place" />}>
              {beside === null ? null : (
                <ComparePart
                  desk={desk}
                  state={state}
                  job={job}
                  workshop={beside}
                  onKey={key => run(tableAction(key))}
                />
              )}
            </Suspense>
          ) : (
            <TablePart
              store={store}
              state={state}
              job={job}
              workshop={workshop}
              onKey={key => run(tableAction(key))}
            />
          )}
          <DesignBar
            variants={job.variants}
            variant={job.variant}
            comparing={comparing}
            onChoose={variant => store.set(now => decide(now, chooseVariant(variant)))}
            onAdd={() =>
              store.set(now => decide(now, addVariant(freshName(job.variants.map(({ name }) => name)))))
            }
            onName={(variant, name) => store.set(now => decide(now, renameVariant(variant, name)))}
            onRemove={variant => store.set(now => decide(now, removeVariant(variant)))}
            onCompare={() => act({ do: 'compare' })}
          />
          <LightPart store={store} state={state} job={job} workshop={workshop} />
        </>
      )}
      {session.work === null ? null : (
        <WorkLine
          work={session.work}
          onStop={() => {
            const taskId = session.work?.taskId
            if (taskId !== undefined) void host('cancel', { taskId }).catch(() => null)
          }}
        />
      )}
      {session.message === null ? null : (
        <MessageLine
          message={session.message}
          onClose={() => store.set(now => inSession(now, { message: null }))}
        />
      )}
      {view.sheet === 'findings' ? (
        <Overlay title="Findings" kind="side" onClose={closeSheet}>
          <FindingList findings={findings} />
        </Overlay>
      ) : null}
      {view.sheet === 'assumed' && job !== null ? (
        <Overlay title="Assumed numbers" kind="side" onClose={closeSheet}>
          <Suspense>
            <AssumedPage
              job={job}
              numbers={assumedNumbers(job, art)}
              onSet={(number, value) => store.set(now => decide(now, setAssumed(number, value), number.key))}
              onMeasured={(number, note) =>
                store.set(now => decide(now, setMeasured(number.key, note), `${number.key} note`))
              }
              onSettle={() => store.set(settle)}
            />
          </Suspense>
        </Overlay>
      ) : null}
      {view.sheet === 'help' ? (
        <Overlay title="Help" kind="side" onClose={closeSheet}>
          <Suspense>
            <Help version={about?.version ?? ''} />
          </Suspense>
        </Overlay>
      ) : null}
      {view.sheet === 'brief' && job !== null ? (
        <Overlay title="Brief" kind="side" onClose={closeSheet}>
          <Suspense>
            <Brief
              brief={job.brief}
              whitePart={job.art === null ? job.sketch.whitePart : null}
              onBrief={brief => store.set(now => decide(now, old => ({ ...old, brief }), 'brief'))}
              onWhite={whitePart =>
                store.set(now => decide(now, old => ({ ...old, sketch: { whitePart } }), 'sketch'))
              }
              onArt={() => void takeArt(desk)}
              onSettle={() => store.set(settle)}
            />
          </Suspense>
        </Overlay>
      ) : null}
      {view.sheet === 'anything' ? (
        <Suspense>
          <Anything commands={commandsOf(desk, state, { act, theme: setTheme })} onClose={closeSheet} />
        </Suspense>
      ) : null}
      {session.question === null ? null : (
        <Ask
          question={session.question}
          upload={about?.files === 'upload'}
          artName={art?.file.name ?? null}
          onUnsaved={answer => void answerUnsaved(desk, answer)}
          onPick={opened => void pickArt(desk, opened)}
          onOutside={opened => void readOutside(desk, opened)}
          onUse={(opened, picked) => void relink(desk, opened, picked, true)}
          onLeave={() => ask(desk, null)}
          onDraft={draft => void openDraft(desk, draft.id)}
          onDropDraft={draft => void dropDraft(desk, draft.id)}
          onLater={() => void openStart(desk)}
        />
      )}
      {dragging && job !== null ? (
        <div className="drop-hint">Drop art or a job to lay it on the table</div>
      ) : null}
    </div>
  )

  function run(action: KeyAction | null): boolean {
    if (action === null) return false
    act(action)
    return true
  }

  function drop(event: DragEvent): void {
    event.preventDefault()
    setDragging(false)
    const files = [...event.dataTransfer.files]
    if (files.length > 0) openDropped(desk, files)
  }
}

/** Keys that mean the same wherever the focus is. */
function useKeys(act: (action: KeyAction) => void): void {
  useEffect(() => {
    const keyed = (event: KeyboardEvent): void => {
      const action = event.defaultPrevented ? null : (everywhereAction(event) ?? looseAction(event))
      if (action === null) return
      if (action.do !== 'close') event.preventDefault()
      act(action)
    }
    window.addEventListener('keydown', keyed)
    return () => window.removeEventListener('keydown', keyed)
  })
}

/** With nothing in focus the table listens. */
const looseAction = (event: KeyboardEvent): KeyAction | null =>
  event.target === document.body ? tableAction(event) : null

/** Asks before the window goes away with unsaved decisions. */
function useGuard(hasUnsaved: () => boolean): void {
  useEffect(() => {
    const leaving = (event: BeforeUnloadEvent): void => {
      if (hasUnsaved()) event.preventDefault()
    }
    window.addEventListener('beforeunload', leaving)
    return () => window.removeEventListener('beforeunload', leaving)
  })
}

/** The window's brightness follows the choice, and the system where that is the choice. */
function useTheme(theme: Theme): void {
  useEffect(() => {
    const dark = matchMedia('(prefers-color-scheme: dark)')
    const follow = () => {
      document.documentElement.dataset.theme = shownTheme(theme, dark.matches)
    }
    follow()
    dark.addEventListener('change', follow)
    return () => dark.removeEventListener('change', follow)
  }, [theme])
}

function useTitle(name: string | null, changed: boolean): void {
  useEffect(() => {
    document.title = name === null ? 'rakelight' : `${changed ? '• ' : ''}${name} – rakelight`
  }, [name, changed])
}
