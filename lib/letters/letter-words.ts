import type { NoticeLanguage } from "@/lib/notices/notice-kinds";
import type { LetterWords } from "./letter";
import { wordsDe } from "./words-de";
import { wordsEn } from "./words-en";
import { wordsEs } from "./words-es";

export const letterWords: Readonly<Record<NoticeLanguage, LetterWords>> = { en: wordsEn, de: wordsDe, es: wordsEs };
