// Package e2e uses the built program as people do: its workspace in two browsers. It holds tests alone.
package e2e
