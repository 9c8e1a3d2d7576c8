import { type DragEvent, Suspense, useEffect, useMemo, useState } from 'react'
import { addVariant, chooseVariant, removeVariant, renameVariant } from '../core/job/variants.ts'
import { type KeyAction, tableAction } from './keys.ts'
import { droppedFiles } from './page-files.ts'
import { useGuard, useKeys, useTheme, useTitle } from './page-hooks.ts'
import { DesignBar } from './panels/DesignBar.tsx'
import { Header } from './panels/Header.tsx'
import { MessageLine, WorkLine } from './panels/Lines.tsx'
import { Welcome } from './panels/Welcome.tsx'
import { AskPart } from './parts/AskPart.tsx'
import { LightPart } from './parts/LightPart.tsx'
import { bringLate, late } from './parts/late.tsx'
import { SheetPart } from './parts/SheetPart.tsx'
import { StackPart } from './parts/StackPart.tsx'
import { TablePart } from './parts/TablePart.tsx'
import type { Workshop } from './scene/workshop.ts'
import { pressed } from './state/actions.ts'
import type { AssetPreviews } from './state/assets.ts'
import { startBlank, startCarton, takeArt } from './state/blank.ts'
import { commandsOf, freshName } from './state/commands.ts'
import { allFindings } from './state/findings.ts'
import { type Desk, openByDialog, openDemo, openDropped, openPlates, openRecent } from './state/open.ts'
import type { Previews } from './state/previews.ts'
import { save } from './state/save.ts'
import { openQuestions } from './state/stack.ts'
import { inSession, inView, type View } from './state/state.ts'
import { decide, redo, undo, unsaved } from './state/steps.ts'
import { useStore } from './state/store.ts'
import { keepTheme, type Theme } from './state/theme.ts'
import { report } from './state/work.ts'

// What the first picture does not need comes when it is asked for.
const ComparePart = late(async () => (await import('./parts/ComparePart.tsx')).ComparePart)

/** After the first map the machine is given this long for the picture before the late parts are fetched, ms. */
const pictureFirstMs = 8000
/** A job that was opened is held to what was signed of it this long after, ms. */
const signedAfterMs = 2500

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
  const comparing = view.compare === 'designs' && job !== null && job.variants.length > 0
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
  useEffect(() => {
    if (!hasPicture) return
    let end: (() => void) | null = null
    const timer = setTimeout(async () => {
      // One that does not come now is asked for again by the sheet.
      const watching = await import('./state/proof-files.ts').catch(() => null)
      end = watching?.watchSignoff(desk) ?? null
    }, signedAfterMs)
    return () => {
      clearTimeout(timer)
      end?.()
    }
  }, [hasPicture, desk])
  useTheme(view.theme)
  useKeys(act)
  useGuard(() => unsaved(store.get()))
  useTitle(art?.file.name ?? null, unsaved(state))
  const toggle = (sheet: NonNullable<View['sheet']>) =>
    store.set(now => inView(now, { sheet: now.view.sheet === sheet ? null : sheet }))
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
        onChecks={() => toggle('checks')}
        onProofs={() => toggle('proofs')}
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
          onPlates={() => openPlates(desk)}
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
      <SheetPart
        desk={desk}
        state={state}
        findings={findings}
        workshop={workshop}
        commands={() => commandsOf(desk, state, { act, theme: setTheme })}
      />
      <AskPart desk={desk} session={session} />
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
    droppedFiles(event.dataTransfer).then(
      files => {
        if (files.length > 0) openDropped(desk, files)
      },
      error => report(store, error),
    )
  }
}
