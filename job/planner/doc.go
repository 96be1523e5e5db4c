// Package planner asks the solvers in order and answers with a Plan: Plan(job) → route → a leg programme for each leg →
// cutting across the job → places, marks, set-out, bill and findings. It translates between what people declare and the
// solvers' narrow problems, and shares out each joint's one budget. It computes no layout itself.
package planner
