import { useEffect, useRef, useState } from 'react'
import type { ArtPages } from '../../core/host/art.ts'
import type { Picture } from '../../core/host/picture.ts'
import type { ArtQuestion } from '../state/state.ts'
import { Overlay } from './Overlay.tsx'

interface Props {
  readonly question: ArtQuestion
  readonly pagesOf: (fileId: string) => Promise<ArtPages>
}

/** What art asks before it lies on the table. */
export function ArtAsk({ question, pagesOf }: Props) {
  switch (question.kind) {
    case 'password':
      return <Password question={question} />
    case 'page':
      return <Pages question={question} pagesOf={pagesOf} />
    case 'inexact':
      return <Inexact question={question} />
  }
}

type Of<K extends ArtQuestion['kind']> = Extract<ArtQuestion, { kind: K }>

function Password({ question: { name, wrong, answer } }: { readonly question: Of<'password'> }) {
  const [text, setText] = useState('')
  return (
    <Overlay title={`${name} is locked`} kind="ask" onClose={() => answer(null)}>
      <form
        onSubmit={event => {
          event.preventDefault()
          if (text !== '') answer(text)
        }}
      >
        {wrong ? (
          <p role="alert">
            <strong>This password does not open it.</strong>
          </p>
        ) : null}
        <p>The password is kept until rakelight ends and written nowhere.</p>
        <label className="typed">
          Password
          <span className="well">
            <input
              type="password"
              autoComplete="off"
              value={text}
              aria-invalid={wrong && text === ''}
              onChange={event => setText(event.target.value)}
            />
          </span>
        </label>
        <div className="answers">
          <button type="submit" className="solid" disabled={text === ''}>
            Open it
          </button>
          <button type="button" className="plain" onClick={() => answer(null)}>
            Leave it
          </button>
        </div>
      </form>
    </Overlay>
  )
}

function Pages({ question: { file, count, answer }, pagesOf }: Props & { readonly question: Of<'page'> }) {
  const [pages, setPages] = useState<ArtPages['pages'] | null>(null)
  const load = useRef(pagesOf)
  load.current = pagesOf
  useEffect(() => {
    let wanted = true
    load.current(file.id).then(
      found => {
        if (wanted) setPages(found.pages)
      },
      // A page can be chosen by its number all the same.
      () => {
        if (wanted) setPages([])
      },
    )
    return () => {
      wanted = false
    }
  }, [file.id])
  const numbers = Array.from({ length: count }, (_, i) => i + 1)
  const pictured = numbers.slice(0, mostPictures)
  return (
    <Overlay title={`${file.name} has ${count} pages`} kind="ask" onClose={() => answer(null)}>
      <p>Which one is the carton?</p>
      <ul className="pages">
        {pictured.map(number => {
          const page = pages?.find(one => one.number === number) ?? null
          return (
            <li key={number}>
              <button type="button" className="plain" onClick={() => answer(number)}>
                <PagePicture picture={page?.picture ?? null} />
                <span>Page {number}</span>
                <span className="quiet">
                  {page === null ? (pages === null ? 'is being read' : '') : sizeWords(page)}
                </span>
              </button>
            </li>
          )
        })}
      </ul>
      {count > mostPictures ? <Further count={count} answer={answer} /> : null}
      <div className="answers">
        <button type="button" className="plain" onClick={() => answer(null)}>
          Leave it
        </button>
      </div>
    </Overlay>
  )
}

const mostPictures = 24

function sizeWords({ widthMm, heightMm, picture }: ArtPages['pages'][number]): string {
  if (picture === null) return 'cannot be shown'
  return `${widthMm.toFixed(0)} × ${heightMm.toFixed(0)} mm`
}

function Further({ count, answer }: { readonly count: number; readonly answer: (page: number) => void }) {
  const [text, setText] = useState('')
  const page = Number(text)
  const good = Number.isInteger(page) && page >= 1 && page <= count
  return (
    <form
      className="answers"
      onSubmit={event => {
        event.preventDefault()
        if (good) answer(page)
      }}
    >
      <label className="typed">
        Another page, up to {count}
        <span className="well">
          <input inputMode="numeric" value={text} onChange={event => setText(event.target.value)} />
        </span>
      </label>
      <button type="submit" className="plain" disabled={!good}>
        Take it
      </button>
    </form>
  )
}

function PagePicture({ picture }: { readonly picture: Picture | null }) {
  const canvas = useRef<HTMLCanvasElement>(null)
  useEffect(() => {
    if (picture === null || canvas.current === null) return
    canvas.current.width = picture.width
    canvas.current.height = picture.height
    const image = new ImageData(new Uint8ClampedArray(picture.rgba), picture.width, picture.height)
    canvas.current.getContext('2d')?.putImageData(image, 0, 0)
  }, [picture])
  // The words beside it say which page it is.
  return (
    <span aria-hidden="true">
      <canvas ref={canvas} width={1} height={1} />
    </span>
  )
}

function Inexact({ question: { name, objects, answer } }: { readonly question: Of<'inexact'> }) {
  return (
    <Overlay title={`Some inks of ${name} cannot be read exactly`} kind="ask" onClose={() => answer(null)}>
      <p>{objects.length === 1 ? 'This object is why:' : `These ${objects.length} objects are why:`}</p>
      <ul className="objects">
        {objects.slice(0, mostListed).map(one => (
          <li key={`${one.code} ${one.where} ${one.message}`}>
            <strong>{one.where}</strong>
            <p>{one.message}</p>
            <p className="quiet">{one.fix}</p>
          </li>
        ))}
        {objects.length > mostListed ? (
          <li className="quiet">and {objects.length - mostListed} more, all among the findings</li>
        ) : null}
      </ul>
      <dl className="facts">
        <div>
          <dt>By ink</dt>
          <dd>Every plate is read; these objects as near as can be.</dd>
        </div>
        <div>
          <dt>By layer</dt>
          <dd>Only where each layer is painted counts, and every part needs a layer of its own.</dd>
        </div>
      </dl>
      <div className="answers">
        <button type="button" className="solid" onClick={() => answer('inks')}>
          Read it by ink
        </button>
        <button type="button" className="plain" onClick={() => answer('layers')}>
          Read it by layer
        </button>
        <button type="button" className="plain" onClick={() => answer(null)}>
          Leave it
        </button>
      </div>
    </Overlay>
  )
}

/** Objects that are listed; the rest is counted. */
const mostListed = 6
