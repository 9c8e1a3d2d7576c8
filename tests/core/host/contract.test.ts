import { describe, expect, test } from 'vitest'
import { BadInput } from '../../../core/base/finding.ts'
import { Cancelled } from '../../../core/base/task.ts'
import type { Handlers } from '../../../core/host/contract.ts'
import { dispatch } from '../../../core/host/dispatch.ts'

/** Our own contract, no outside source: whatever comes in, one reply goes out and nothing is run unparsed. */

function refuse(): never {
  throw new Error('was not to be asked')
}

const handlers: Handlers = {
  about: async () => ({ version: '1', shell: 'desktop', files: 'dialog', start: null }),
  recent: refuse,
  chooseFile: refuse,
  openJob: async ({ allowOutside }) => {
    throw new BadInput('art-missing', 'x.json', 'field "art.path"', `outside ${allowOutside}`, 'Look')
  },
  importArt: async () => {
    throw new Cancelled()
  },
  artPages: refuse,
  chooseArt: refuse,
  assignRoles: async () => {
    throw 'a string'
  },
  preview: refuse,
  buildMap: refuse,
  addProfile: refuse,
  chooseAsset: refuse,
  runChecks: refuse,
  slipPicture: refuse,
  accountPicture: refuse,
  flashPicture: refuse,
  heatPicture: refuse,
  typePicture: refuse,
  whitePicture: refuse,
  framePicture: refuse,
  makeStills: refuse,
  makeProofSheet: refuse,
  makeSignOffPdf: refuse,
  addAsset: refuse,
  assetPictures: refuse,
  saveJob: refuse,
  makePlates: refuse,
  saveFile: refuse,
  demo: refuse,
  artState: refuse,
  keepDraft: refuse,
  drafts: refuse,
  openDraft: refuse,
  dropDraft: refuse,
  versions: refuse,
  notes: refuse,
  addNotes: refuse,
  mergeNotes: refuse,
  signoff: refuse,
  addSignoff: refuse,
  makeProof: refuse,
  proofOut: refuse,
  comparePicture: refuse,
  progress: async () => null,
  cancel: async () => null,
}

describe('dispatch', () => {
  test('answers with the value', async () => {
    expect(await dispatch(handlers, 'about', {})).toMatchObject({ ok: true, value: { version: '1' } })
  })

  test.each(['nothing', '__proto__', 'constructor', 'toString', ''])('refuses the name %j', async name => {
    expect(await dispatch(handlers, name, {})).toEqual({
      ok: false,
      code: 'unknown-request',
      message: `no request "${name}"`,
    })
  })

  test.each([
    ['chooseFile', {}, 'what'],
    ['chooseFile', { what: 'folder' }, 'what'],
    ['openJob', { fileId: '../secret' }, 'fileId'],
    ['openJob', { fileId: 'a'.repeat(65) }, 'fileId'],
    ['openJob', null, 'input'],
    ['importArt', { fileId: 'a' }, 'taskId'],
    ['preview', { fileId: 'a', target: { kind: 'page', id: '1' } }, 'target.kind'],
    [
      'preview',
      { fileId: 'a', target: { kind: 'layer', id: '1' }, show: 'amount', job: {}, size: 1e9 },
      'size',
    ],
    ['buildMap', { fileId: 'a', taskId: 't', job: 'job' }, 'job'],
    ['saveJob', { fileId: 3, artFileId: 'a', job: {} }, 'fileId'],
  ])('%s refuses %j and names %s', async (name, input, place) => {
    const reply = await dispatch(handlers, name, input)
    expect(reply).toMatchObject({ ok: false, code: 'malformed' })
    expect(reply.ok ? '' : reply.message).toContain(`${name}: ${place}`)
  })

  test('what a handler throws becomes one reply', async () => {
    expect(await dispatch(handlers, 'openJob', { fileId: 'a' })).toEqual({
      ok: false,
      code: 'art-missing',
      message: 'x.json: field "art.path": outside false. Look',
    })
    expect(await dispatch(handlers, 'importArt', { fileId: 'a', taskId: 't' })).toMatchObject({
      code: 'cancelled',
    })
    expect(await dispatch(handlers, 'assignRoles', { fileId: 'a', job: {} })).toEqual({
      ok: false,
      code: 'failed',
      message: 'a string',
    })
    expect(await dispatch(handlers, 'recent', {})).toMatchObject({ ok: false, code: 'failed' })
  })
})
