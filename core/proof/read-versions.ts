import * as v from 'valibot'
import { BadInput } from '../base/finding.ts'
import { fields, list, tooMany } from '../job/schema/value.ts'
import { signedFile } from './read-signoff.ts'
import { checkVersion } from './read-version.ts'
import { checkFields, checkFormat, type FileFormat, readJson } from './schema.ts'
import type { SignedFile } from './signoff.ts'
import type { ProofVersion } from './version.ts'
import { mostVersions, type VersionsFile, versionsFormat, versionsVersion } from './versions.ts'

const file: FileFormat = {
  format: versionsFormat,
  version: versionsVersion,
  called: 'a list of versions',
  code: 'versions',
}

const schema = fields({
  format: v.literal(versionsFormat),
  version: v.literal(versionsVersion),
  versions: v.pipe(
    list(fields({ version: v.unknown(), files: list(signedFile) })),
    v.maxLength(mostVersions, issue => tooMany(mostVersions, 'versions', issue)),
  ),
})

/** The versions of a job from the text of their file. Throws BadInput with the place. */
export function parseVersions(text: string, name: string): VersionsFile {
  const value = readJson(text, name, file)
  checkFormat(value, name, file)
  const { versions, ...rest } = checkFields(schema, value, name, file)
  return {
    ...rest,
    versions: versions.map(({ version, files }) => ({ version: checkVersion(version, name), files })),
  }
}

/**
 * The text of the list with one more file, or one more version; what is listed already stays as it is written.
 * Throws BadInput where the list is full.
 * @param text of the list there is; null = none
 * @param file that shows the version; null where none does
 */
export function listedText(
  text: string | null,
  version: ProofVersion,
  shows: SignedFile | null,
  name: string,
): string {
  const none = { format: versionsFormat, version: versionsVersion, versions: [] }
  const value = text === null ? none : readJson(text, name, file)
  checkFormat(value, name, file)
  // As they came: a job of an older version would lose its hash if it were written anew.
  const { versions } = checkFields(schema, value, name, file)
  const added = shows === null ? [] : [shows]
  const idOf = (one: unknown) => (one as Partial<ProofVersion> | null)?.id
  const known = versions.some(one => idOf(one.version) === version.id)
  const now = known
    ? versions.map(one =>
        idOf(one.version) === version.id ? { ...one, files: withFiles(one.files, added) } : one,
      )
    : [...versions, { version, files: added }]
  if (now.length > mostVersions)
    throw new BadInput(
      'versions-full',
      name,
      'the list',
      `holds ${mostVersions} versions`,
      'Move it away to begin a new one',
    )
  return `${JSON.stringify({ ...none, versions: now }, null, 2)}\n`
}

/** A file written again under its name takes the place of the one before. */
const withFiles = (files: readonly SignedFile[], added: readonly SignedFile[]): readonly SignedFile[] => [
  ...files.filter(one => !added.some(other => other.name === one.name)),
  ...added,
]
