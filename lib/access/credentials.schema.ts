import { z } from "zod";

/** Only the shape: whether the pair is right is answered by one sentence for every reason, so that nobody learns which accounts exist. */
export const credentialsSchema = z.object({
  email: z
    .string()
    .trim()
    .toLowerCase()
    .pipe(z.email("Give the whole e-mail address, for example name@workshop.example.")),
  password: z.string().min(1, "Give the password.").max(128, "No password here is so long."),
});

export type Credentials = z.output<typeof credentialsSchema>;
