import "server-only";
import { createCipheriv, createDecipheriv, randomBytes } from "node:crypto";

/** Bytes of the key, the nonce and the tag. Source: NIST SP 800-38D, GCM with AES-256 and a nonce of 96 bits. */
const KEY_BYTES = 32;
const NONCE_BYTES = 12;
const TAG_BYTES = 16;

/** A contact and the key it was sealed with, both base64. Each contact has a key of its own, which is never used twice. */
export interface SealedContact {
  readonly sealed: string;
  readonly key: string;
}

export function sealContact(text: string): SealedContact {
  const key = randomBytes(KEY_BYTES);
  const nonce = randomBytes(NONCE_BYTES);
  const cipher = createCipheriv("aes-256-gcm", key, nonce);
  const body = Buffer.concat([cipher.update(text, "utf8"), cipher.final()]);
  return {
    sealed: Buffer.concat([nonce, cipher.getAuthTag(), body]).toString("base64"),
    key: key.toString("base64"),
  };
}

/** The contact again. Throws where key and text do not belong together, because then somebody changed one of them. */
export function openContact({ sealed, key }: SealedContact): string {
  const bytes = Buffer.from(sealed, "base64");
  const decipher = createDecipheriv("aes-256-gcm", Buffer.from(key, "base64"), bytes.subarray(0, NONCE_BYTES));
  decipher.setAuthTag(bytes.subarray(NONCE_BYTES, NONCE_BYTES + TAG_BYTES));
  return Buffer.concat([decipher.update(bytes.subarray(NONCE_BYTES + TAG_BYTES)), decipher.final()]).toString("utf8");
}
