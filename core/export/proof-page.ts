import { toBase64 } from '../base/base64.ts'
import { deflate } from '../base/inflate.ts'
import { sha256Hex } from '../base/sha256.ts'
import { bytesToText } from '../base/text85.ts'
import { shortCaution } from '../proof/caution.ts'
import type { ProofManifest } from '../proof/manifest.ts'
import { pageParts, planePart } from '../proof/page-parts.ts'
import { shortId } from '../proof/version.ts'
import type { ProofPictures } from './proof-pictures.ts'
import { escaped } from './report-page.ts'

/** What runs in the page, built beforehand. */
export interface ViewerScripts {
  /** Unpacks the viewer and runs it. */
  readonly loader: string
  readonly viewer: string
  readonly css: string
}

/**
 * One page that needs nothing else: a still picture first, pictures along a tilt, then the live view where scripts run.
 * Its policy lets its own two scripts run, by their hashes, and no connection be made; all that comes from a job or its
 * notes is text or lies in blocks that nobody runs.
 * @param planes packed bytes, in the order of the manifest
 */
export function proofPage(
  manifest: ProofManifest,
  planes: readonly Uint8Array[],
  pictures: ProofPictures,
  { loader, viewer, css }: ViewerScripts,
): string {
  const { of, label, detail } = manifest
  const name = of.jobName.replace(/(\.job)?\.json$/i, '')
  const title = `${name} – ${label.toLowerCase()}`
  const run = forScript(loader)
  const style = forStyle(css)
  const made = `${of.madeAt.slice(0, 16).replace('T', ' ')} UTC`
  return [
    '<!doctype html>',
    '<html lang="en">',
    '<head>',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${policy([run, viewer], [style, plainStyle])}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<meta name="referrer" content="no-referrer">',
    `<meta name="generator" content="rakelight ${escaped(of.program)}">`,
    `<title>${escaped(title)}</title>`,
    `<style>${style}</style>`,
    `<noscript><style>${plainStyle}</style></noscript>`,
    '</head>',
    '<body>',
    '<header class="head">',
    `<h1>${escaped(name)}</h1>`,
    `<p>${escaped(label)} · version ${escaped(shortId(of.id))} · ${escaped(made)}</p>`,
    `<p class="quiet">${escaped(shortCaution)} ${escaped(detail.says)}</p>`,
    '</header>',
    '<main class="proof">',
    picture(pictures.still, `id="${pageParts.still}" alt="The carton as the job was left"`),
    `<div id="${pageParts.live}"><noscript><p>${escaped(noScript)}</p></noscript></div>`,
    `<section id="${pageParts.strip}" aria-label="The carton at some tilts">`,
    ...pictures.strip.map((png, i) => picture(png, `alt="${escaped(tiltWords(manifest, i))}"`)),
    '</section>',
    '</main>',
    block(pageParts.manifest, 'application/json', forJson(manifest)),
    ...planes.map((bytes, at) => block(planePart(at), 'application/octet-stream', bytesToText(bytes))),
    block(
      pageParts.viewer,
      'application/octet-stream',
      bytesToText(deflate(new TextEncoder().encode(viewer), 9)),
    ),
    `<script>${run}</script>`,
    '</body>',
    '</html>',
    '',
  ].join('\n')
}

const noScript =
  'Here are pictures that were drawn beforehand. The live view, which tilts the carton under the lamp, needs a browser that runs the scripts of this file: save the file and open it in a current one. Previews of mail programs and phones do not.'

/** Where no script runs, the pictures along the tilt are shown. */
const plainStyle = `body{height:auto}.proof{display:block;padding:1rem}#${pageParts.still}{height:auto;max-height:70vh}#${pageParts.strip}{display:grid;grid-template-columns:repeat(auto-fill,minmax(11rem,1fr));gap:.5rem}#${pageParts.strip} img{width:100%}`

/** Nothing from anywhere; these scripts and styles by their hashes; pictures that lie in the page; workers made of its own text. */
function policy(scripts: readonly string[], styles: readonly string[]): string {
  const hashes = (texts: readonly string[]) => texts.map(text => `'${hashSource(text)}'`).join(' ')
  return [
    "default-src 'none'",
    `script-src ${hashes(scripts)}`,
    `style-src ${hashes(styles)}`,
    'img-src data: blob:',
    'worker-src blob:',
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ')
}

/** As a content policy names a text. Source: CSP 3, 2.3.1. */
function hashSource(text: string): string {
  const hex = sha256Hex(text)
  return `sha256-${toBase64(Uint8Array.from({ length: 32 }, (_, i) => Number.parseInt(hex.slice(2 * i, 2 * i + 2), 16)))}`
}

/** A block that a browser keeps and nobody runs. Its text holds no `<`. */
const block = (id: string, type: string, text: string): string =>
  `<script id="${id}" type="${type}">${text}</script>`

/** A value as JSON that ends no block: `<` stands as its escape. */
const forJson = (value: unknown): string => JSON.stringify(value).replaceAll('<', '\\u003c')

/** A script that ends no block: a closing tag or a comment inside its strings would. */
const forScript = (script: string): string =>
  script.replaceAll('</script', '<\\/script').replaceAll('<!--', '<\\!--')

/** A style sheet that ends no block. */
const forStyle = (css: string): string => css.replaceAll('</', '<\\/')

const picture = (png: Uint8Array, attributes: string): string =>
  `<img ${attributes} src="data:image/png;base64,${toBase64(png)}">`

function tiltWords({ strip }: ProofManifest, i: number): string {
  const { tiltForwardDeg: tilt, tiltSideDeg: side, turnDeg: turn } = strip.held[i]!.pose
  return `Tilted ${Math.round(tilt)}° back, ${Math.round(side)}° to the side, turned ${Math.round(turn)}°`
}
