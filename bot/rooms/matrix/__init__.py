"""The shared room: a teaching team on a Matrix server.

hearing   an event of the server -> something said, edited, removed or reacted to (or nothing)
content   what the bot says -> the content of an event
mailbox   what is kept of the post: rooms, handled events, letters not yet sent, the place in the server's stream
client    the library's client with the cures that a killed process needs
account   the first login, and the token kept for later ones
desk      one room: answers, prompts and board in turn, sent in order
service   the whole bot: the loop that hears, invitations, gaps, stopping
"""
